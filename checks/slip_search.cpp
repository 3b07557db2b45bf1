#include "checks/slip_search.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <numbers>
#include <string>

namespace levelrun {
namespace {

// How often a slip is of each kind. Common practice, no source: swapped digits are the commonest
// slip of those who read and write numbers all day.
constexpr double swapped = 0.40, misread = 0.20, counted = 0.15, tape_mark = 0.08,
                 centimetres = 0.04, inches = 0.03, other = 0.10;
constexpr double other_reach = 1000;  // mm either way
constexpr double least_probability = 0.01;
constexpr double no_part = 1e-12;  // of a probability; all slips of a room this small add nothing
constexpr std::size_t most_suspects = 8;

struct Slip {
  const char* kind;
  double value;
  double prior;
};

void add_all(std::vector<Slip>& slips, const char* kind, double prior,
             const std::vector<double>& values) {
  for (const double value : values) slips.push_back({kind, value, prior / double(values.size())});
}

// What the length really was, were `booked` each of the slips.
std::vector<Slip> slips_of(double booked) {
  std::vector<Slip> out;
  char text[32];
  const auto whole = static_cast<long long>(std::llround(booked));
  const auto end = std::to_chars(text, text + sizeof text, whole).ptr;
  const auto number = [](const std::string& digits) { return std::stod(digits); };
  const std::string digits(text, end);
  std::vector<double> values;
  for (std::size_t i = 0; i + 1 < digits.size(); ++i) {
    std::string other_way = digits;
    std::swap(other_way[i], other_way[i + 1]);
    if (other_way != digits && other_way[0] != '0') values.push_back(number(other_way));
  }
  add_all(out, "digits swapped", swapped, values);
  values.clear();
  for (std::size_t i = 0; i < digits.size(); ++i)
    for (char d = i == 0 ? '1' : '0'; d <= '9'; ++d) {
      if (d == digits[i]) continue;
      std::string one = digits;
      one[i] = d;
      values.push_back(number(one));
    }
  add_all(out, "digit misread", misread, values);
  values.clear();
  for (const double by : {-1000.0, -100.0, 100.0, 1000.0})
    if (booked + by > 0) values.push_back(booked + by);
  add_all(out, "100 or 1000 out", counted, values);
  if (booked > 100) add_all(out, "read from the tape's 100 mark", tape_mark, {booked - 100});
  add_all(out, "cm for mm", centimetres, {booked * 10});
  add_all(out, "inches for mm", inches, {booked * 25.4});
  return out;
}

struct Scored {
  Index reading;
  const char* kind;
  double value;
  double log_weight;
};

}  // namespace

std::vector<SlipSuspect> slip_suspects(RoomNet& net, std::span<const char> used,
                                       std::span<const Index> candidates) {
  std::vector<Scored> alike, unlike;
  std::vector<char> without(used.begin(), used.end());
  for (const Index i : candidates) {
    const RoomReading& reading = net.readings()[i];
    if (reading.kind == RoomReadingKind::angle) continue;
    without[i] = 0;
    const bool solved = net.solve(without) == NetState::solved;
    without[i] = used[i];
    if (!solved) continue;
    const Estimate predicted = net.plan().predict(net.plan().net().observations[i]);
    const double variance = predicted.sd * predicted.sd + reading.sd * reading.sd;
    const double apart = net.plan().chi_square();
    std::vector<Scored>& scored = net.like_described() ? alike : unlike;
    for (const Slip& slip : slips_of(reading.measured)) {
      const double off = slip.value - predicted.value;
      scored.push_back(
          {i, slip.kind, slip.value, std::log(slip.prior) - (apart + off * off / variance) / 2});
    }
    // Any other value: the same, averaged over all that it could be.
    const double density = std::sqrt(2 * std::numbers::pi * variance) / (2 * other_reach);
    if (std::abs(reading.measured - predicted.value) <= other_reach)
      scored.push_back(
          {i, "other", predicted.value, std::log(other * std::min(density, 1.0)) - apart / 2});
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
      return o.reading == s.reading && std::abs(o.suspect.value - s.value) < 0.5;
    });
    if (same != out.end())
      same->suspect.probability += probability;
    else
      out.push_back({s.reading, {net.readings()[s.reading].at, s.kind, s.value, probability}});
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
