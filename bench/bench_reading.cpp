// Reading: a scenario file of so many materials, from text to a checked scenario.
#include <benchmark/benchmark.h>
#include <leastwise/load.hpp>

#include <string>

#include "support/generator.hpp"
#include "yaml_text.hpp"

using namespace leastwise;

namespace {

ScenarioDraft draft_of(int materials) {
  return support::random_draft(
      7, {.materials = materials, .basis = Basis::per_hectare, .sabotage = 0, .frills = false});
}

void parse_text(benchmark::State& state) {
  const std::string text = bench::scenario_text(draft_of(static_cast<int>(state.range(0))));
  for (auto _ : state) benchmark::DoNotOptimize(parse_scenario(text));
  state.SetBytesProcessed(static_cast<std::int64_t>(state.iterations() * text.size()));
}

/// The checks alone, without any text.
void check_draft(benchmark::State& state) {
  const ScenarioDraft draft = draft_of(static_cast<int>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(Scenario(draft));
}

BENCHMARK(parse_text)
    ->ArgName("materials")
    ->Arg(25)
    ->Arg(100)
    ->Arg(400)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK(check_draft)
    ->ArgName("materials")
    ->Arg(25)
    ->Arg(100)
    ->Arg(400)
    ->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
