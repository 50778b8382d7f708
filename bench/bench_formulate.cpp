// One pure linear program: what does the library add to a bare solve by the LP engine under it?
#include <benchmark/benchmark.h>
#include <leastwise/formulate.hpp>

#include <ClpSimplex.hpp>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <vector>

#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr std::size_t instances = 64;

/// Scenarios without either-or rules that can be blended.
std::vector<Scenario> pure_scenarios(int materials) {
  std::vector<Scenario> scenarios;
  for (std::uint64_t seed = 1; scenarios.size() < instances; ++seed) {
    Scenario scenario = random_scenario(
        seed, {.materials = materials, .either_or = false, .sabotage = 0, .frills = false});
    if (formulate(scenario, {.intervals = false}).blend() != nullptr)
      scenarios.push_back(std::move(scenario));
  }
  return scenarios;
}

/// Arrays as ClpSimplex::loadProblem takes them, written from the scenario before timing.
struct Loaded {
  std::vector<CoinBigIndex> start{};
  std::vector<int> row_of{};
  std::vector<double> value{}, lower{}, upper{}, cost{}, row_lower{}, row_upper{};
};

Loaded loaded(const Scenario& scenario) {
  const MixedInteger program = relaxation(read(scenario));
  Loaded arrays;
  for (std::size_t j = 0; j < program.columns.size(); ++j) {
    arrays.start.push_back(static_cast<CoinBigIndex>(arrays.row_of.size()));
    for (std::size_t i = 0; i < program.rows.size(); ++i)
      for (const auto& [column, value] : program.rows[i].entries) {
        if (column != static_cast<int>(j)) continue;
        arrays.row_of.push_back(static_cast<int>(i));
        arrays.value.push_back(value);
      }
    arrays.lower.push_back(program.columns[j].lower);
    arrays.upper.push_back(program.columns[j].upper);
    arrays.cost.push_back(program.columns[j].cost);
  }
  arrays.start.push_back(static_cast<CoinBigIndex>(arrays.row_of.size()));
  for (const Row& row : program.rows) {
    arrays.row_lower.push_back(row.lower);
    arrays.row_upper.push_back(row.upper);
  }
  const auto bounded = [](std::vector<double>& values) {
    for (double& x : values)
      if (std::isinf(x)) x = x > 0 ? COIN_DBL_MAX : -COIN_DBL_MAX;
  };
  for (auto* values : {&arrays.lower, &arrays.upper, &arrays.row_lower, &arrays.row_upper})
    bounded(*values);
  return arrays;
}

double bare_cost(const Loaded& arrays) {
  ClpSimplex model;
  model.setLogLevel(0);
  model.loadProblem(static_cast<int>(arrays.cost.size()), static_cast<int>(arrays.row_lower.size()),
                    arrays.start.data(), arrays.row_of.data(), arrays.value.data(),
                    arrays.lower.data(), arrays.upper.data(), arrays.cost.data(),
                    arrays.row_lower.data(), arrays.row_upper.data());
  model.dual();
  return model.objectiveValue();
}

void formulate_pure(benchmark::State& state) {
  const auto scenarios = pure_scenarios(static_cast<int>(state.range(0)));
  std::size_t k = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(formulate(scenarios[k], {.intervals = state.range(1) != 0}));
    k = (k + 1) % scenarios.size();
  }
}

void bare_clp(benchmark::State& state) {
  std::vector<Loaded> programs;
  for (const Scenario& scenario : pure_scenarios(static_cast<int>(state.range(0)))) {
    programs.push_back(loaded(scenario));
    const Formulation answer = formulate(scenario, {.intervals = false});
    const double ours = cost_of(*answer.blend());
    if (std::fabs(bare_cost(programs.back()) - ours) > 1e-6 * std::fabs(ours))
      state.SkipWithError("the bare program has another optimum");
  }
  std::size_t k = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(bare_cost(programs[k]));
    k = (k + 1) % programs.size();
  }
}

BENCHMARK(bare_clp)->ArgName("materials")->Arg(12)->Arg(25)->Arg(60)->Unit(benchmark::kMicrosecond);
BENCHMARK(formulate_pure)
    ->ArgNames({"materials", "intervals"})
    ->ArgsProduct({{12, 25, 60, 150, 400}, {0, 1}})
    ->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
