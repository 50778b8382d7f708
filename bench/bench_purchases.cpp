// Blends with price tiers and minimum lots, beside the same blends at one price for each material.
#include <benchmark/benchmark.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <chrono>
#include <vector>

#include "support/generator.hpp"
#include "support/purchase_drawing.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// Scenarios that can be blended, with and without tiers and lots.
struct Priced {
  std::vector<Scenario> flat{};
  std::vector<Scenario> tiered{};
};

Priced priced(int materials) {
  Priced list;
  for (std::uint64_t seed = 1; list.tiered.size() < 16; ++seed) {
    Scenario flat = random_scenario(
        seed, {.materials = materials, .either_or = false, .sabotage = 0, .frills = false});
    const auto answer = formulate(flat, {.intervals = false});
    if (answer.blend() == nullptr) continue;
    ScenarioDraft draft = flat.draft();
    draw_purchases(draft, seed, answer.blend()->total_kg_per_ha.value_or(1000));
    list.flat.push_back(std::move(flat));
    list.tiered.emplace_back(draft);
  }
  return list;
}

/// Mean and worst seconds of a blend; `tiers`: with them, `intervals`: everything about it.
void purchases(benchmark::State& state) {
  const Priced list = priced(static_cast<int>(state.range(0)));
  const auto& scenarios = state.range(1) != 0 ? list.tiered : list.flat;
  const SolveOptions options{.intervals = state.range(2) != 0};
  double worst = 0;
  double sum = 0;
  long solved = 0;
  for (auto _ : state) {
    for (const Scenario& scenario : scenarios) {
      const auto start = std::chrono::steady_clock::now();
      benchmark::DoNotOptimize(formulate(scenario, options));
      const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
      worst = std::max(worst, took.count());
      sum += took.count();
      ++solved;
    }
  }
  state.counters["mean_ms"] = 1e3 * sum / static_cast<double>(std::max(1L, solved));
  state.counters["worst_ms"] = 1e3 * worst;
}

BENCHMARK(purchases)
    ->ArgNames({"materials", "tiers", "intervals"})
    ->ArgsProduct({{25, 60}, {0, 1}, {0, 1}})
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
