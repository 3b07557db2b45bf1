#include "checks/slip_search.h"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "checks/critical_values.h"
#include "checks/human_slips.h"
#include "checks/room_judgement.h"

namespace levelrun {
namespace {

constexpr double least_probability = 0.01;
constexpr double no_part = 1e-12;  // of a probability; all slips of a room this small add nothing
constexpr std::size_t most_suspects = 8;
// Of all slips of one length, how many are made at all heights of its wall alike: who has misread
// a wall once reads the next height to match. Common practice, no source.
constexpr double at_all_heights = 0.1;
constexpr double booked_alike = 20;  // mm between a wall's heights: lean makes no more
constexpr double standing = 900;     // mm; the height that a wall's slip is told at
// sd of the difference: beyond, the others do not agree to the slip's value either (0.1 %, 80 %
// power, Baarda 1968). Of several readings together: what is as unlikely.
constexpr double fit_limit = 4.13, fit_alpha = 3.6e-5;

struct Scored {
  Index reading;
  const char* kind;
  double value;
  double log_weight;
  std::vector<Index> together = {};  // all lengths of the wall
  bool fits = false;                 // what the others say
  bool closes = false;               // then: the room agrees
};

// The chi-square up to which a room agrees.
double chi_square_limit(int dof) {
  return dof > 0 ? chi_square_quantile(1 - global_alpha, dof)
                 : std::numeric_limits<double>::infinity();
}

// All believed lengths of one wall, if there are several and all were booked alike; the one
// nearest standing height first.
std::vector<Index> wall_lengths(const RoomNet& net, std::span<const char> used, Index reading) {
  const std::vector<RoomReading>& all = net.readings();
  std::vector<Index> out;
  if (all[reading].kind != RoomReadingKind::length) return out;
  for (Index i = 0; i < all.size(); ++i) {
    const RoomReading& r = all[i];
    if (!used[i] || r.kind != RoomReadingKind::length || r.from != all[reading].from) continue;
    if (std::abs(r.measured - all[reading].measured) > booked_alike) return {};
    out.push_back(i);
  }
  if (out.size() < 2) return {};
  std::stable_sort(out.begin(), out.end(), [&](Index a, Index b) {
    return std::abs(all[a].height - standing) < std::abs(all[b].height - standing);
  });
  return out;
}

// Every slip, made alike at all heights of one wall: how far the readings together are from what
// all others say, in their joint covariance. The net is solved without them.
void score_together(const RoomNet& net, const std::vector<Index>& lengths,
                    std::vector<Scored>& scored) {
  const PlanAdjustment& plan = net.plan();
  const auto n = Eigen::Index(lengths.size());
  Eigen::MatrixXd covariance(n, n);
  Eigen::VectorXd booked(n), predicted(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const RoomReading& reading = net.readings()[lengths[Index(i)]];
    booked[i] = reading.measured;
    predicted[i] = plan.value(plan.net().observations[lengths[Index(i)]]);
    for (Eigen::Index k = 0; k < n; ++k)
      covariance(i, k) = plan.covariance(lengths[Index(i)], lengths[Index(k)]);
    covariance(i, i) += reading.sd * reading.sd;
  }
  const Eigen::LLT<Eigen::MatrixXd> factor(covariance);
  if (factor.info() != Eigen::Success) return;
  const double apart = plan.chi_square();
  const int dof = plan.dof() + int(n);
  const double limit = chi_square_limit(dof), limit_other = chi_square_limit(dof - 1);
  const auto add = [&](const char* kind, double value, double prior, const Eigen::VectorXd& off,
                       int spent) {
    const double own = off.dot(factor.solve(off));
    const bool closes = dof > spent && apart + own <= (spent > 0 ? limit_other : limit);
    scored.push_back({lengths.front(), kind, value,
                      std::log(at_all_heights * prior) - (apart + own) / 2, lengths,
                      chi_square_above(own, double(n)) >= fit_alpha, closes});
  };
  for (const HumanSlip& slip : human_slips(booked[0])) {
    Eigen::VectorXd right = booked;
    if (slip.scales)
      right *= slip.value / booked[0];
    else
      right.array() += slip.value - booked[0];
    add(slip.kind, slip.value, slip.prior, right - predicted, 0);
  }
  // Any other shift: the best one, averaged over all that it could be.
  const Eigen::VectorXd ones = Eigen::VectorXd::Ones(n);
  const double information = ones.dot(factor.solve(ones));
  const double shift = ones.dot(factor.solve(predicted - booked)) / information;
  if (std::abs(shift) > other_slip_reach) return;
  const double density = std::sqrt(2 * std::numbers::pi / information) / (2 * other_slip_reach);
  add("other", booked[0] + shift, other_slip * std::min(density, 1.0),
      booked + shift * ones - predicted, 1);
}

}  // namespace

std::vector<SlipSuspect> slip_suspects(RoomNet& net, std::span<const char> used,
                                       std::span<const Index> candidates,
                                       std::span<const LeftOut> left_out) {
  std::vector<Scored> alike, unlike;
  double reached = std::numeric_limits<double>::infinity();
  std::vector<char> without(used.begin(), used.end()), tried(net.readings().size(), 0);
  int dof = 0;  // of the room with any one reading left out
  if (!left_out.empty()) {
    without[left_out.front().reading] = 0;
    if (net.solve(without) == NetState::solved) dof = net.plan().dof();
    without[left_out.front().reading] = used[left_out.front().reading];
  }
  const double limit = chi_square_limit(dof + 1), limit_other = chi_square_limit(dof);
  for (const auto& [i, apart, predicted, like_described] : left_out) {
    const RoomReading& reading = net.readings()[i];
    if (like_described) reached = std::min(reached, apart);
    if (reading.kind == RoomReadingKind::angle) continue;
    const double variance = predicted.sd * predicted.sd + reading.sd * reading.sd;
    std::vector<Scored>& scored = like_described ? alike : unlike;
    for (const HumanSlip& slip : human_slips(reading.measured)) {
      const double off = slip.value - predicted.value, own = off * off / variance;
      scored.push_back({i,
                        slip.kind,
                        slip.value,
                        std::log(slip.prior) - (apart + own) / 2,
                        {},
                        own <= fit_limit * fit_limit,
                        apart + own <= limit});
    }
    // Any other value: the same, averaged over all that it could be.
    const double density = std::sqrt(2 * std::numbers::pi * variance) / (2 * other_slip_reach);
    if (std::abs(reading.measured - predicted.value) <= other_slip_reach)
      scored.push_back({i,
                        "other",
                        predicted.value,
                        std::log(other_slip * std::min(density, 1.0)) - apart / 2,
                        {},
                        true,
                        apart <= limit_other});
  }
  for (const Index i : candidates) {
    if (tried[i]) continue;
    const std::vector<Index> lengths = wall_lengths(net, used, i);
    for (const Index k : lengths) tried[k] = 1, without[k] = 0;
    if (!lengths.empty() && net.solve(without, RoomNet::hopeless(reached)) == NetState::solved)
      score_together(net, lengths, net.like_described() ? alike : unlike);
    for (const Index k : lengths) without[k] = used[k];
  }
  // A reading without which the room is another one explains nothing, unless all are so.
  std::vector<Scored>& scored = alike.empty() ? unlike : alike;
  if (scored.empty()) return {};
  double best = scored[0].log_weight;
  for (const Scored& s : scored) best = std::max(best, s.log_weight);
  double total = 0;
  for (const Scored& s : scored) total += std::exp(s.log_weight - best);
  std::stable_sort(scored.begin(), scored.end(),
                   [](const Scored& a, const Scored& b) { return a.log_weight > b.log_weight; });

  // One value reached by several slips is one suspect, under its likeliest name.
  std::vector<SlipSuspect> out;
  for (const Scored& s : scored) {
    const double probability = std::exp(s.log_weight - best) / total;
    if (probability < no_part) break;
    const auto same = std::find_if(out.begin(), out.end(), [&](const SlipSuspect& o) {
      return o.reading == s.reading && o.together == s.together &&
             std::abs(o.suspect.value - s.value) < 0.5;
    });
    if (same != out.end()) {
      same->suspect.probability += probability;
      same->fits = same->fits || s.fits;
      same->closes = same->closes || s.closes;
    } else {
      out.push_back({s.reading,
                     {net.readings()[s.reading].at,
                      s.kind + std::string(s.together.empty() ? "" : " at all its heights"),
                      s.value, probability},
                     s.together,
                     s.fits,
                     s.closes});
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const SlipSuspect& a, const SlipSuspect& b) {
    return a.suspect.probability > b.suspect.probability;
  });
  std::erase_if(out,
                [](const SlipSuspect& s) { return s.suspect.probability < least_probability; });
  if (out.size() > most_suspects) out.resize(most_suspects);
  return out;
}

}  // namespace levelrun
