// What-ifs against a prepared scenario, beside making the scenario anew for each. Both sides are
// asked in turn, so that what else the machine does falls on both.
#include <benchmark/benchmark.h>
#include <leastwise/prepared.hpp>

#include <time.h>

#include <chrono>
#include <cstdlib>
#include <vector>

#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

const SolveOptions blend_alone{.intervals = false};

/// A scenario with one kind of question.
struct Asked {
  PreparedBlend prepared;
  std::vector<WhatIf> questions{};
};

enum class Question { price, limit };

/// Pure linear programs that can be blended, each with questions about its first materials or
/// rates.
std::vector<Asked> asked(int materials, Question question) {
  std::vector<Asked> list;
  for (std::uint64_t seed = 1; list.size() < 16; ++seed) {
    const auto scenario = random_scenario(
        seed, {.materials = materials, .either_or = false, .sabotage = 0, .frills = false});
    const auto answer = formulate(scenario, blend_alone);
    if (answer.blend() == nullptr || answer.blend()->binding.empty()) continue;
    Asked one{PreparedBlend(scenario)};
    for (int k = 0; k < 32; ++k) {
      const double by = 0.97 + 0.002 * k;
      if (question == Question::price) {
        const auto& material = scenario.materials()[static_cast<std::size_t>(k % materials)];
        one.questions.push_back({.prices = {{material.name, material.price_per_t * by}}});
      } else {
        const auto& rule = answer.blend()->binding.front();
        one.questions.push_back({.limits = {{rule.id, rule.limit * by}}});
      }
    }
    try {
      for (const auto& change : one.questions) (void)one.prepared.changed(change);
    } catch (const std::exception&) {
      continue;  // this limit cannot move so far
    }
    list.push_back(std::move(one));
  }
  return list;
}

double seconds_of(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

/// One what-if at a time: the time is that of the prepared scenario, `cold` how many times as long
/// a fresh scenario takes.
void what_if(benchmark::State& state, Question question) {
  const auto list = asked(static_cast<int>(state.range(0)), question);
  double prepared = 0;
  double cold = 0;
  long count = 0;
  for (auto _ : state) {
    double here = 0;
    for (const auto& one : list)
      for (const auto& change : one.questions) {
        here += seconds_of(
            [&] { benchmark::DoNotOptimize(one.prepared.formulate(change, blend_alone)); });
        cold += seconds_of([&] {
          benchmark::DoNotOptimize(formulate(one.prepared.changed(change), blend_alone));
        });
        ++count;
      }
    prepared += here;
    state.SetIterationTime(here);
  }
  state.counters["us_each"] = 1e6 * prepared / static_cast<double>(count);
  state.counters["cold"] = cold / prepared;
}

/// The processor time that this process has taken, all threads together.
double processor_seconds() {
  timespec now{};
  ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// The same in bulk: how many times as fast two threads are, by the clock, and how much processor
/// time they take for what one takes. The first needs two idle processors: on a busy machine it
/// says what the others left over. The second does not, and shows whether threads hinder each
/// other.
void many(benchmark::State& state) {
  const auto list = asked(static_cast<int>(state.range(0)), Question::price);
  double alone = 0;
  double together = 0;
  double work_alone = 0;
  double work_together = 0;
  long count = 0;
  for (auto _ : state) {
    double here = 0;
    for (const auto& one : list) {
      std::vector<WhatIf> questions;
      for (int k = 0; k < 16; ++k)
        questions.insert(questions.end(), one.questions.begin(), one.questions.end());
      const double start = processor_seconds();
      here += seconds_of([&] {
        benchmark::DoNotOptimize(formulate_many(one.prepared, questions, 2, blend_alone));
      });
      const double between = processor_seconds();
      alone += seconds_of([&] {
        benchmark::DoNotOptimize(formulate_many(one.prepared, questions, 1, blend_alone));
      });
      work_together += between - start;
      work_alone += processor_seconds() - between;
      count += static_cast<long>(questions.size());
    }
    together += here;
    state.SetIterationTime(here);
  }
  state.counters["us_each"] = 1e6 * together / static_cast<double>(count);
  state.counters["one_thread"] = alone / together;
  state.counters["work"] = work_together / work_alone;
}

void sizes(benchmark::internal::Benchmark* bench) {
  bench->ArgName("materials")->Arg(12)->Arg(25)->Arg(60)->UseManualTime();
  bench->Unit(benchmark::kMillisecond);
}

BENCHMARK_CAPTURE(what_if, price, Question::price)->Apply(sizes);
BENCHMARK_CAPTURE(what_if, limit, Question::limit)->Apply(sizes);
BENCHMARK(many)->Apply(sizes);

}  // namespace

BENCHMARK_MAIN();
