#pragma once
#include <pybind11/pybind11.h>
#include <leastwise/outcome.hpp>

#include <chrono>
#include <mutex>
#include <optional>
#include <stop_token>
#include <utility>

namespace leastwise::python {

/// A call at work without the interpreter's lock: it keeps the time limit, tells of progress, and
/// stops when Python is interrupted or when who is told raises an exception, which then comes out.
class Watch {
 public:
  Watch(std::optional<double> time_limit_s, pybind11::object progress)
      : time_limit_s_(time_limit_s), progress_(std::move(progress)) {}

  /// What `work`, given its limits, returns.
  template <class Work>
  auto run(const Work& work) -> decltype(work(SolveOptions{})) {
    SolveOptions limits;
    if (time_limit_s_) limits.time_limit = std::chrono::duration<double>(*time_limit_s_);
    limits.stop = stop_.get_token();
    limits.progress = [this](const Progress& progress) { tell(progress); };
    auto result = [&] {
      const pybind11::gil_scoped_release released;
      return work(std::as_const(limits));
    }();
    if (raised_) throw pybind11::error_already_set(std::move(*raised_));
    return result;
  }

 private:
  using Clock = std::chrono::steady_clock;

  void tell(const Progress& progress) {
    constexpr std::chrono::milliseconds seldom{50};
    {
      const std::scoped_lock lock(mutex_);
      if (stop_.stop_requested() || Clock::now() - told_ < seldom) return;
      told_ = Clock::now();
    }
    const pybind11::gil_scoped_acquire acquired;
    try {
      if (PyErr_CheckSignals() != 0) throw pybind11::error_already_set();
      if (!progress_.is_none()) progress_(std::string(progress.of), progress.done, progress.all);
    } catch (pybind11::error_already_set& error) {
      if (!raised_) raised_.emplace(std::move(error));
      stop_.request_stop();
    }
  }

  std::optional<double> time_limit_s_;
  pybind11::object progress_;
  std::stop_source stop_{};
  std::mutex mutex_{};
  Clock::time_point told_ = Clock::now();
  std::optional<pybind11::error_already_set> raised_{};
};

}  // namespace leastwise::python
