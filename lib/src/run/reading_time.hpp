#pragma once
#include <leastwise/outcome.hpp>

#include <algorithm>
#include <chrono>
#include <condition_variable>
#include <functional>
#include <mutex>
#include <optional>
#include <stop_token>
#include <thread>
#include <utility>

namespace leastwise::run_door {

using Seconds = std::chrono::duration<double>;

/// The time of one call: it runs from the start of the call, reading included.
class ReadingTime {
  using Clock = std::chrono::steady_clock;

 public:
  /// A stop that comes when time is up, or when somebody asked; while it lives.
  class Reading {
   public:
    Reading(std::optional<Clock::time_point> deadline, const std::stop_token& asked)
        : forward_(asked, [this] { source_.request_stop(); }) {
      if (!deadline) return;
      watch_ = std::jthread([this, until = *deadline](const std::stop_token& done) {
        std::unique_lock lock(mutex_);
        if (!wake_.wait_until(lock, done, until, [] { return false; }) && !done.stop_requested())
          source_.request_stop();
      });
    }
    [[nodiscard]] std::stop_token token() const { return source_.get_token(); }

   private:
    std::stop_source source_{};
    std::mutex mutex_{};
    std::condition_variable_any wake_{};
    std::stop_callback<std::function<void()>> forward_;
    std::jthread watch_{};
  };

  ReadingTime(std::optional<Seconds> limit, std::stop_token asked) : asked_(std::move(asked)) {
    constexpr Seconds longest{1e8};  // a clock cannot count to any number of seconds
    if (limit)
      deadline_ = start_ + std::chrono::duration_cast<Clock::duration>(
                               std::clamp(*limit, Seconds(0), longest));
  }

  /// No limit cuts the first fifth of a second: a shorter one ends the search, which has something
  /// to show.
  [[nodiscard]] Reading reading() const {
    constexpr std::chrono::milliseconds least{200};
    auto end = deadline_;
    if (end) end = std::max(*end, start_ + least);
    return {end, asked_};
  }

  /// `limits` with what is left of the time.
  [[nodiscard]] SolveOptions left(SolveOptions limits) const {
    limits.time_limit.reset();
    if (deadline_) limits.time_limit = std::max(Seconds(0), Seconds(*deadline_ - Clock::now()));
    return limits;
  }

 private:
  Clock::time_point start_ = Clock::now();
  std::stop_token asked_;
  std::optional<Clock::time_point> deadline_{};
};

}  // namespace leastwise::run_door
