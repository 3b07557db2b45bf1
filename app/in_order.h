// Much work on all cores, its results taken in order.
//
// work(i) runs on as many threads as there are cores, take(i, result) on the caller's, for i = 0,
// 1, 2 …, as soon as it is i's turn. No thread runs further ahead than a few results a thread, so
// memory stays flat however many there are. Neither may throw.
#pragma once

#include <algorithm>
#include <condition_variable>
#include <cstddef>
#include <map>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

namespace levelrun {

template <class Work, class Take>
void in_order(std::size_t count, std::size_t threads, Work work, Take take) {
  constexpr std::size_t ahead = 4;  // results a thread
  threads = std::min(std::max<std::size_t>(threads, 1), count);
  if (threads <= 1) {
    for (std::size_t i = 0; i < count; ++i) take(i, work(i));
    return;
  }
  using Outcome = decltype(work(std::size_t(0)));
  std::mutex mutex;
  std::condition_variable changed;
  std::map<std::size_t, Outcome> done;
  std::size_t next = 0, taken = 0;
  const auto run = [&] {
    for (;;) {
      std::size_t mine = 0;
      {
        std::unique_lock lock(mutex);
        changed.wait(lock, [&] { return next >= count || next < taken + ahead * threads; });
        if (next >= count) return;
        mine = next++;
      }
      Outcome outcome = work(mine);
      const std::lock_guard lock(mutex);
      done.emplace(mine, std::move(outcome));
      changed.notify_all();
    }
  };
  std::vector<std::thread> pool;
  for (std::size_t t = 0; t < threads; ++t) pool.emplace_back(run);
  for (std::size_t i = 0; i < count; ++i) {
    std::unique_lock lock(mutex);
    changed.wait(lock, [&] { return done.count(i) > 0; });
    Outcome outcome = std::move(done.at(i));
    done.erase(i);
    taken = i + 1;
    changed.notify_all();
    lock.unlock();
    take(i, std::move(outcome));
  }
  for (std::thread& t : pool) t.join();
}

}  // namespace levelrun
