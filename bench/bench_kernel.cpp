// The dense kernel beside CLP: the same questions with the kernel as it comes and with CLP alone,
// in turn, so that what else the machine does falls on both.
#include <benchmark/benchmark.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "solver/kernel.hpp"
#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

struct Kind {
  bool either_or = false;
  bool everything = false;  ///< with intervals and entry prices
};

double milliseconds_of(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start)
      .count();
}

int instances(int otherwise) {
  const char* text = std::getenv("LEASTWISE_BENCH_INSTANCES");
  return text == nullptr ? otherwise : std::atoi(text);
}

/// The time is that of the kernel; `clp` is how many times as long CLP alone takes, as a geometric
/// mean over scenarios that can be blended, each by its best of several runs.
void contest(benchmark::State& state, const Kind& kind) {
  const int materials = static_cast<int>(state.range(0));
  const int runs = kind.everything ? 2 : 5;
  for (auto _ : state) {
    double log_sum = 0;
    double worst = 1e300;
    double kernel_ms = 0;
    int count = 0;
    for (std::uint64_t seed = 900'000; count < instances(kind.everything ? 8 : 40); ++seed) {
      const auto scenario = random_scenario(
          seed,
          {.materials = materials, .either_or = kind.either_or, .sabotage = 0.1, .frills = false});
      const SolveOptions options{.intervals = kind.everything};
      const auto ask = [&] { benchmark::DoNotOptimize(formulate(scenario, options)); };
      if (formulate(scenario, {.intervals = false}).blend() == nullptr) continue;
      double kernel = 1e300;
      double clp = 1e300;
      for (int run = 0; run < runs; ++run) {
        kernel = std::min(kernel, milliseconds_of(ask));
        const solver::ForcedKernel forced(solver::Kernel::never);
        clp = std::min(clp, milliseconds_of(ask));
      }
      log_sum += std::log(clp / kernel);
      worst = std::min(worst, clp / kernel);
      kernel_ms += kernel;
      ++count;
    }
    state.SetIterationTime(kernel_ms / 1000);
    state.counters["clp"] = std::exp(log_sum / std::max(1, count));
    state.counters["worst"] = worst;
    state.counters["ms_each"] = kernel_ms / std::max(1, count);
  }
}

void sizes(benchmark::internal::Benchmark* bench) {
  bench->ArgName("materials")->Arg(25)->Arg(60)->Arg(150)->Iterations(1)->UseManualTime();
  bench->Unit(benchmark::kMillisecond);
}

BENCHMARK_CAPTURE(contest, linear, Kind{false, false})->Apply(sizes);
BENCHMARK_CAPTURE(contest, linear_everything, Kind{false, true})->Apply(sizes);
BENCHMARK_CAPTURE(contest, either_or, Kind{true, false})->Apply(sizes);
BENCHMARK_CAPTURE(contest, either_or_everything, Kind{true, true})->Apply(sizes);

}  // namespace

BENCHMARK_MAIN();
