// Maps and lists: what do they cost beside single solves?
#include <benchmark/benchmark.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/rounding.hpp>

#include <vector>

#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::size_t instances = 24;

/// Scenarios that can be blended; the first material of the blend is the one whose price moves.
struct Question {
  Scenario scenario;
  std::string material{};
  double price = 0;
};

std::vector<Question> questions(int materials, bool either_or, std::optional<Basis> basis = {}) {
  std::vector<Question> list;
  for (std::uint64_t seed = 1; list.size() < instances; ++seed) {
    const auto scenario = random_scenario(seed, {.materials = materials,
                                                 .either_or = either_or,
                                                 .basis = basis,
                                                 .sabotage = 0,
                                                 .frills = false});
    const auto answer = formulate(scenario, {.intervals = false});
    if (answer.blend() == nullptr) continue;
    const auto& name = answer.blend()->portions.front().material;
    const double price = scenario.materials()[*scenario.index_of(name)].price_per_t;
    if (price > 0) list.push_back({scenario, name, price});
  }
  return list;
}

void price_map_one(benchmark::State& state) {
  const auto list = questions(static_cast<int>(state.range(0)), state.range(1) != 0);
  std::size_t k = 0;
  double solves = 0;
  for (auto _ : state) {
    const auto& q = list[k++ % list.size()];
    const auto map = price_map(q.scenario, q.material, q.price / 4, q.price * 3);
    solves += static_cast<double>(map.solves);
  }
  state.counters["solves"] = benchmark::Counter(solves, benchmark::Counter::kAvgIterations);
}

/// What the map replaces: 200 prices, each formulated for itself.
void price_sweep_200(benchmark::State& state) {
  const auto list = questions(static_cast<int>(state.range(0)), state.range(1) != 0);
  std::size_t k = 0;
  for (auto _ : state) {
    const auto& q = list[k++ % list.size()];
    for (int step = 0; step < 200; ++step)
      benchmark::DoNotOptimize(
          formulate(q.scenario.with_price(q.material, q.price * (0.25 + 2.75 * step / 199)),
                    {.intervals = false}));
  }
}

void price_map_two(benchmark::State& state) {
  const auto list = questions(static_cast<int>(state.range(0)), state.range(1) != 0);
  std::size_t k = 0;
  double regions = 0;
  for (auto _ : state) {
    const auto& q = list[k++ % list.size()];
    const auto& other = q.scenario.materials().front().name == q.material
                            ? q.scenario.materials()[1]
                            : q.scenario.materials()[0];
    const double price = std::max(other.price_per_t, 1.0);
    const auto map = price_regions(q.scenario, q.material, {q.price / 2, q.price * 2}, other.name,
                                   {price / 2, price * 2});
    regions += static_cast<double>(map.regions.size());
  }
  state.counters["regions"] = benchmark::Counter(regions, benchmark::Counter::kAvgIterations);
}

void formulate_once(benchmark::State& state) {
  const auto list = questions(static_cast<int>(state.range(0)), state.range(1) != 0);
  std::size_t k = 0;
  for (auto _ : state)
    benchmark::DoNotOptimize(
        formulate(list[k++ % list.size()].scenario, {.intervals = state.range(2) != 0}));
}

void alternatives_20(benchmark::State& state) {
  const auto list = questions(static_cast<int>(state.range(0)), state.range(1) != 0);
  std::size_t k = 0;
  double solves = 0;
  for (auto _ : state) {
    const auto found = alternatives(list[k++ % list.size()].scenario, 20);
    solves += static_cast<double>(found.solves);
  }
  state.counters["linear_programs"] =
      benchmark::Counter(solves, benchmark::Counter::kAvgIterations);
}

void round_half_kg(benchmark::State& state) {
  const auto list = questions(static_cast<int>(state.range(0)), false, Basis::per_tonne);
  std::size_t k = 0;
  double proved = 0;
  for (auto _ : state) {
    const auto blend =
        round_to_step(list[k++ % list.size()].scenario, {.step_kg = 0.5, .most_solves = 20000});
    proved += blend.proved ? 1 : 0;
  }
  state.counters["proved"] = benchmark::Counter(proved, benchmark::Counter::kAvgIterations);
}

BENCHMARK(formulate_once)
    ->ArgNames({"materials", "either_or", "intervals"})
    ->ArgsProduct({{25, 60}, {0, 1}, {0, 1}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK(price_map_one)
    ->ArgNames({"materials", "either_or"})
    ->ArgsProduct({{25}, {0, 1}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK(price_sweep_200)
    ->ArgNames({"materials", "either_or"})
    ->ArgsProduct({{25}, {0, 1}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK(price_map_two)
    ->ArgNames({"materials", "either_or"})
    ->ArgsProduct({{25}, {0, 1}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK(alternatives_20)
    ->ArgNames({"materials", "either_or"})
    ->ArgsProduct({{25, 60}, {0, 1}})
    ->Unit(benchmark::kMillisecond);
BENCHMARK(round_half_kg)->ArgName("materials")->Arg(15)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
