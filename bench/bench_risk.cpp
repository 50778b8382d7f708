// Price risk: draws per second with remembered, proved bases against solving every draw again.
// LEASTWISE_BENCH_INSTANCES sets how many scenarios of each kind (default 8).
#include <benchmark/benchmark.h>
#include <leastwise/formulate.hpp>
#include <leastwise/risk.hpp>

#include <malloc.h>

#include <ClpSimplex.hpp>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <iostream>
#include <vector>

#include "analysis/risk/risk_draws.hpp"
#include "model/model.hpp"
#include "solver/search.hpp"
#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr double kg_per_tonne = 1000;

int instances() {
  const char* text = std::getenv("LEASTWISE_BENCH_INSTANCES");
  return text == nullptr ? 8 : std::atoi(text);
}

/// Scenarios that can be blended, every price with the same lognormal spread.
std::vector<Scenario> scenarios(int materials, bool either_or, double percent, long draws) {
  std::vector<Scenario> list;
  for (std::uint64_t seed = 700'000; static_cast<int>(list.size()) < instances(); ++seed) {
    ScenarioDraft draft = random_draft(
        seed, {.materials = materials, .either_or = either_or, .sabotage = 0, .frills = false});
    const Scenario plain(draft);
    draft.risk.emplace();
    draft.risk->draws = draws;
    draft.risk->seed = seed;
    for (const auto& material : plain.materials()) {
      PriceSpread spread;
      spread.material = material.name;
      spread.percent = percent;
      if (material.price_per_t > 0) draft.risk->prices.push_back(spread);
    }
    Scenario scenario(draft);
    if (formulate(scenario, {.intervals = false}).blend() != nullptr)
      list.push_back(std::move(scenario));
  }
  return list;
}

/// Processor seconds of work on one thread: other programs on the machine do not count.
template <typename Work>
double processor_seconds(Work work) {
  const std::clock_t start = std::clock();
  work();
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

template <typename Work>
double seconds(Work work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// Calls `solve(cost)` for every draw.
template <typename Solve>
void for_each_draw(const Scenario& scenario, const model::Model& model, Solve solve) {
  const auto& uncertainty = *scenario.price_uncertainty();
  analysis::PriceDraws draws(scenario, uncertainty);
  std::vector<double> prices;
  std::vector<double> cost = model.cost;
  for (long n = 0; n < *uncertainty.draws; ++n) {
    draws.draw(static_cast<std::uint64_t>(n), prices);
    for (std::size_t j = 0; j < cost.size(); ++j) {
      if (model.material_of[j] < 0) continue;
      const auto i = static_cast<std::size_t>(model.material_of[j]);
      cost[j] = model.cost[j] + (prices[i] - scenario.materials()[i].price_per_t) / kg_per_tonne;
    }
    solve(cost);
  }
}

/// One CLP model, its costs changed and solved again from the last basis: `primal(0, 7)`.
double warm_clp(const Scenario& scenario) {
  const auto model = model::build(scenario);
  const auto data = solver::relaxation(model);
  std::vector<CoinBigIndex> start(static_cast<std::size_t>(data.columns) + 1, 0);
  for (const auto& entry : data.entries) ++start[static_cast<std::size_t>(entry.column) + 1];
  for (std::size_t j = 0; j + 1 < start.size(); ++j) start[j + 1] += start[j];
  std::vector<CoinBigIndex> next(start.begin(), start.end() - 1);
  std::vector<int> row(data.entries.size());
  std::vector<double> value(data.entries.size());
  for (int i = 0; i < data.rows; ++i)
    for (int e = data.row_start[static_cast<std::size_t>(i)];
         e < data.row_start[static_cast<std::size_t>(i) + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      const auto at = static_cast<std::size_t>(next[static_cast<std::size_t>(entry.column)]++);
      row[at] = i;
      value[at] = entry.value;
    }
  const auto bounded = [](std::vector<double> values) {
    for (double& x : values)
      if (std::isinf(x)) x = x > 0 ? COIN_DBL_MAX : -COIN_DBL_MAX;
    return values;
  };
  ClpSimplex clp;
  clp.setLogLevel(0);
  clp.loadProblem(data.columns, data.rows, start.data(), row.data(), value.data(),
                  bounded(data.lower).data(), bounded(data.upper).data(), data.cost.data(),
                  bounded(data.row_lower).data(), bounded(data.row_upper).data());
  clp.dual();
  double sum = 0;
  for_each_draw(scenario, model, [&](const std::vector<double>& cost) {
    for (std::size_t j = 0; j < cost.size(); ++j)
      clp.setObjectiveCoefficient(static_cast<int>(j), cost[j]);
    clp.primal(0, 7);
    sum += clp.objectiveValue();
  });
  return sum / static_cast<double>(*scenario.price_uncertainty()->draws);
}

/// A search from scratch for every draw.
double plain_search(const Scenario& scenario) {
  auto model = model::build(scenario);
  const auto priced_today = model;
  double sum = 0;
  for_each_draw(scenario, priced_today, [&](const std::vector<double>& cost) {
    model.cost = cost;
    sum += solver::search(model).cost;
  });
  return sum / static_cast<double>(*scenario.price_uncertainty()->draws);
}

void report(benchmark::State& state, double ours, double theirs, double draws, double log_ratios,
            double worst, int count, int different) {
  state.SetIterationTime(ours);
  state.counters["draws_per_s"] = draws / ours;
  state.counters["other_draws_per_s"] = draws / theirs;
  state.counters["ratio"] = theirs / ours;
  state.counters["geomean_ratio"] = std::exp(log_ratios / std::max(1, count));
  state.counters["worst_ratio"] = worst;
  state.counters["disagreements"] = different;
}

template <typename Other>
void contest(benchmark::State& state, const std::vector<Scenario>& list, Other other) {
  for (auto _ : state) {
    double ours = 0;
    double theirs = 0;
    double draws = 0;
    double log_ratios = 0;
    double worst = 1e300;
    int different = 0;
    for (const auto& scenario : list) {
      PriceRisk risk;
      double mean = 0;
      const double a = processor_seconds([&] { risk = price_risk(scenario, {.threads = 1}); });
      const double b = processor_seconds([&] { mean = other(scenario); });
      if (std::fabs(mean - risk.reoptimised.mean) > 1e-7 * std::fabs(mean)) ++different;
      ours += a;
      theirs += b;
      draws += static_cast<double>(risk.draws);
      log_ratios += std::log(b / a);
      worst = std::min(worst, b / a);
    }
    report(state, ours, theirs, draws, log_ratios, worst, static_cast<int>(list.size()), different);
  }
}

void against_warm_clp(benchmark::State& state) {
  contest(state,
          scenarios(static_cast<int>(state.range(0)), false, static_cast<double>(state.range(1)),
                    10'000),
          warm_clp);
}

void against_plain_search(benchmark::State& state) {
  contest(
      state,
      scenarios(static_cast<int>(state.range(0)), true, static_cast<double>(state.range(1)), 1000),
      plain_search);
}

/// Two threads against one on the same scenarios: one, two, two, one, so that a machine that grows
/// slower or faster meanwhile counts against neither. Says nothing where other programs run.
void two_threads(benchmark::State& state) {
  const auto list = scenarios(25, false, static_cast<double>(state.range(0)), 40'000);
  for (auto _ : state) {
    double one = 0;
    double two = 0;
    double draws = 0;
    for (const auto& scenario : list) {
      PriceRisk risk;
      for (const unsigned threads : {1U, 2U, 2U, 1U})
        (threads == 1 ? one : two) +=
            seconds([&] { risk = price_risk(scenario, {.threads = threads}); });
      draws += 2 * static_cast<double>(risk.draws);
    }
    state.SetIterationTime(two);
    state.counters["ratio"] = one / two;
    state.counters["draws_per_s"] = draws / two;
  }
}

BENCHMARK(against_warm_clp)
    ->ArgNames({"materials", "spread_percent"})
    ->ArgsProduct({{25}, {5, 10, 20}})
    ->Iterations(1)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK(against_plain_search)
    ->ArgNames({"materials", "spread_percent"})
    ->ArgsProduct({{25, 60}, {5, 20}})
    ->Iterations(1)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK(two_threads)
    ->ArgName("spread_percent")
    ->Arg(5)
    ->Arg(20)
    ->Iterations(1)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

/// Keeps memory that was given back. CLP takes and returns its work space at every solve; where a
/// fresh page is dear, as on many virtual machines, that alone can make it ten times slower, which
/// would count against it here.
void keep_memory() {
  constexpr int much = 32 << 20;
  mallopt(M_MMAP_THRESHOLD, much);
  mallopt(M_TRIM_THRESHOLD, 32 * much - 1);
  mallopt(M_TOP_PAD, 2 * much);
}

}  // namespace

int main(int argc, char** argv) {
  keep_memory();
  benchmark::Initialize(&argc, argv);
  if (benchmark::ReportUnrecognizedArguments(argc, argv)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
  return 0;
}
