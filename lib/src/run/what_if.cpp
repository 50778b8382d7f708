#include <leastwise/compare.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/what_if.hpp>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <exception>
#include <optional>
#include <thread>
#include <utility>

namespace leastwise {
namespace {

using WhatIfClock = std::chrono::steady_clock;

Scenario changed(const Scenario& scenario, const WhatIf& question) {
  Scenario result = scenario;
  if (!question.without.empty()) {
    VariantDraft variant;
    variant.name = "without";
    variant.without = question.without;
    result = varied(result, variant);
  }
  for (const auto& [rule, limit] : question.limits) result = with_limit(result, rule, limit);
  return question.prices.empty() ? result : with_prices(result, question.prices);
}

/// Threads that take one question after the other, until none is left or one does not fit.
class WhatIfWork {
 public:
  WhatIfWork(const Scenario& scenario, std::span<const WhatIf> questions, const SolveLimits& limits)
      : scenario_(scenario), questions_(questions), limits_(limits), answers_(questions.size()) {
    constexpr std::chrono::duration<double> longest{1e8};  // a clock cannot count any further
    if (limits.time_limit)
      deadline_ = WhatIfClock::now() + std::chrono::duration_cast<WhatIfClock::duration>(
                                           std::min(*limits.time_limit, longest));
  }

  std::vector<WhatIfAnswer> run(unsigned threads) {
    std::vector<std::exception_ptr> failures(threads);
    {
      std::vector<std::jthread> others;
      for (unsigned k = 1; k < threads; ++k)
        others.emplace_back([this, &failure = failures[k]] { work(failure, {}); });
      work(failures[0], limits_.progress);
    }
    for (const auto& failure : failures)
      if (failure) std::rethrow_exception(failure);
    return std::move(answers_);
  }

 private:
  void work(std::exception_ptr& failure, const ProgressCallback& progress) {
    try {
      for (std::size_t k = next_++; k < questions_.size() && !failed_; k = next_++) {
        answers_[k] = answered(changed(scenario_, questions_[k]));
        if (progress)
          progress({"what-ifs", static_cast<long>(std::min(next_.load(), questions_.size())),
                    static_cast<long>(questions_.size())});
      }
    } catch (...) {
      failure = std::current_exception();
      failed_ = true;
    }
  }

  [[nodiscard]] WhatIfAnswer answered(const Scenario& scenario) const {
    FormulateOptions options{.stop = limits_.stop, .intervals = false};
    if (deadline_)
      options.time_limit =
          std::max(std::chrono::duration<double>(0),
                   std::chrono::duration<double>(*deadline_ - WhatIfClock::now()));
    const auto answer = formulate(scenario, options);
    WhatIfAnswer result;
    result.status = answer.status();
    if (const Blend* blend = answer.blend()) {
      result.cost = blend->cost_per_ha.value_or(blend->cost_per_t);
      result.portions = blend->portions;
    }
    return result;
  }

  const Scenario& scenario_;
  std::span<const WhatIf> questions_;
  const SolveLimits& limits_;
  std::vector<WhatIfAnswer> answers_;
  std::optional<WhatIfClock::time_point> deadline_{};
  std::atomic<std::size_t> next_{0};
  std::atomic<bool> failed_{false};
};

}  // namespace

std::vector<WhatIfAnswer> what_if(const Scenario& scenario, std::span<const WhatIf> questions,
                                  unsigned threads, const SolveLimits& limits) {
  if (threads == 0) threads = std::max(1U, std::thread::hardware_concurrency());
  const std::size_t useful = std::max<std::size_t>(questions.size(), 1);
  threads = static_cast<unsigned>(std::min<std::size_t>(threads, useful));
  return WhatIfWork(scenario, questions, limits).run(threads);
}

}  // namespace leastwise
