// Random numbers that are the same on every machine and with every library.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

namespace levelrun {

class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}

  double uniform(double low, double high) {
    return low + (high - low) * double(engine_() >> 11) * 0x1.0p-53;
  }
  double normal(double sd) {  // Box and Muller
    const double r = std::sqrt(-2 * std::log(uniform(0x1.0p-54, 1)));
    return sd * r * std::cos(2 * std::numbers::pi * uniform(0, 1));
  }
  std::size_t below(std::size_t n) { return std::size_t(uniform(0, double(n))); }

 private:
  std::mt19937_64 engine_;  // fully specified by the C++ standard
};

}  // namespace levelrun
