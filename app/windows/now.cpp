#include <chrono>
#include <cstdio>
#include <ctime>

#include "app/windows/window.h"

namespace levelrun {

std::string Window::now() const {
  const std::time_t t = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm local{};
  localtime_r(&t, &local);
  char text[40];
  std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%S", &local);
  const long minutes = local.tm_gmtoff / 60;
  const long off = minutes < 0 ? -minutes : minutes;
  char zone[16];
  std::snprintf(zone, sizeof zone, "%c%02ld:%02ld", minutes < 0 ? '-' : '+', off / 60 % 100,
                off % 60);
  return std::string(text) + zone;
}

}  // namespace levelrun
