#pragma once
#include <algorithm>
#include <chrono>
#include <functional>
#include <optional>
#include <stop_token>

namespace leastwise::base {

/// The moment at which work gives up; nothing means never.
using Deadline = std::optional<std::chrono::steady_clock::time_point>;

/// `time_limit` from now; a limit of years is cut to three, which no clock overflows on.
[[nodiscard]] inline Deadline deadline_after(
    const std::optional<std::chrono::duration<double>>& time_limit) {
  if (!time_limit) return std::nullopt;
  const auto limit = std::min(*time_limit, std::chrono::duration<double>(1e8));
  return std::chrono::steady_clock::now() +
         std::chrono::duration_cast<std::chrono::steady_clock::duration>(limit);
}

/// Thrown when time is up or somebody asked to stop.
struct Interrupted {};

/// Calls now and then; throws Interrupted when the work is to end.
using StopCheck = std::function<void()>;

/// Ends the work at `deadline` or when `stop` asks for it.
[[nodiscard]] inline StopCheck stop_check_until(const Deadline& deadline, std::stop_token stop) {
  return [deadline, stop = std::move(stop)] {
    if (stop.stop_requested() || (deadline && std::chrono::steady_clock::now() >= *deadline))
      throw Interrupted{};
  };
}

}  // namespace leastwise::base
