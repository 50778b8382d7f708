#include "base/in_parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace leastwise::base {

void in_parallel(std::size_t count, unsigned threads,
                 const std::function<void(std::size_t)>& task) {
  std::atomic<std::size_t> next{0};
  std::mutex guard;
  std::exception_ptr first;
  const auto work = [&]() noexcept {
    try {
      for (std::size_t k = next++; k < count; k = next++) task(k);
    } catch (...) {
      next = count;
      const std::scoped_lock lock(guard);
      if (!first) first = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> others;
    try {
      for (std::size_t t = 1; t < std::min<std::size_t>(threads, count); ++t)
        others.emplace_back(work);
    } catch (const std::system_error&) {
      // The system has no more threads: those there are do the work.
    }
    work();
  }
  if (first) std::rethrow_exception(first);
}

}  // namespace leastwise::base
