// Questions as lines of JSON, beside the same questions as values: what reading and writing lines
// costs, and what a stream of many lines takes of memory.
#include <benchmark/benchmark.h>
#include <leastwise/prepared.hpp>
#include <leastwise/stream.hpp>

#include <time.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// The processor time that this process has taken, all threads together.
double processor_seconds() {
  timespec now{};
  ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

double resident_mib() {
  std::ifstream pages("/proc/self/statm");
  double all = 0;
  double resident = 0;
  pages >> all >> resident;
  return resident * static_cast<double>(::sysconf(_SC_PAGESIZE)) / (1 << 20);
}

/// A look only: as a test.
bool in_short() { return std::getenv("LEASTWISE_BENCH_INSTANCES") != nullptr; }

/// The first pure linear program from `seed` on that can be blended.
Scenario blendable(int materials, std::uint64_t seed) {
  for (;; ++seed) {
    auto scenario = random_scenario(
        seed, {.materials = materials, .either_or = false, .sabotage = 0, .frills = false});
    if (formulate(scenario, {.intervals = false}).blend() != nullptr) return scenario;
  }
}

WhatIf question(const Scenario& scenario, int k) {
  const auto& materials = scenario.materials();
  const auto& material = materials[static_cast<std::size_t>(k) % materials.size()];
  return {.prices = {{material.name, material.price_per_t * (0.9 + 0.0001 * (k % 2000))}}};
}

std::string line_of(const WhatIf& question, int k) {
  const auto& [material, price] = question.prices.front();
  std::string name;
  for (const char c : material)
    name += c == '"' || c == '\\' ? std::string{'\\', c} : std::string{c};
  return R"({"id": )" + std::to_string(k) + R"(, "price": {")" + name +
         "\": " + std::to_string(price) + "}}";
}

/// One thread, in turn: how much of the rate of `formulate_many` the stream keeps.
void overrides(benchmark::State& state) {
  const int count = in_short() ? 100 : 4000;
  double values = 0;
  double lines = 0;
  long questions = 0;
  for (auto _ : state) {
    double here = 0;
    for (std::uint64_t seed = 1; seed < 400; seed += 100) {
      const Scenario scenario = blendable(static_cast<int>(state.range(0)), seed);
      std::vector<WhatIf> asked;
      std::vector<std::string> texts;
      for (int k = 0; k < count; ++k) {
        asked.push_back(question(scenario, k));
        texts.push_back(line_of(asked.back(), k));
      }
      const PreparedBlend prepared(scenario);
      std::size_t next = 0;
      std::size_t bytes = 0;
      StreamOptions how;
      how.bases.push_back({"base", scenario});
      how.threads = 1;
      const double start = processor_seconds();
      const auto end = answer_lines(
          [&] { return next < texts.size() ? std::optional(texts[next++]) : std::nullopt; },
          [&](std::string_view text) {
            bytes += text.size();
            if (text.find("\"rejected\"") != std::string_view::npos)
              state.SkipWithError(std::string(text.substr(0, 700)).c_str());
          },
          how);
      const double between = processor_seconds();
      benchmark::DoNotOptimize(formulate_many(prepared, asked, 1, {.intervals = false}));
      values += processor_seconds() - between;
      here += between - start;
      questions += end.answered;
      if (end.rejected > 0 || bytes == 0) return;
    }
    lines += here;
    state.SetIterationTime(here);
  }
  state.counters["us_each"] = 1e6 * lines / static_cast<double>(questions);
  state.counters["of_library"] = values / lines;
}

/// A million lines on all threads: how much memory grows after the first hundred thousand.
void memory(benchmark::State& state) {
  const Scenario scenario = blendable(25, 1);
  const long count = in_short() ? 3000 : state.range(0);
  for (auto _ : state) {
    StreamOptions how;
    how.bases.push_back({"base", scenario});
    long asked = 0;
    double early = 0;
    double late = 0;
    const auto end = answer_lines(
        [&]() -> std::optional<std::string> {
          if (asked == count / 10) early = resident_mib();
          if (asked == count) {
            late = resident_mib();
            return std::nullopt;
          }
          const int k = static_cast<int>(asked++);
          return line_of(question(scenario, k), k);
        },
        [](std::string_view) {}, how);
    state.counters["lines"] = static_cast<double>(end.answered);
    state.counters["MiB"] = late;
    state.counters["MiB_grown"] = late - early;
  }
}

BENCHMARK(overrides)
    ->ArgName("materials")
    ->Arg(12)
    ->Arg(25)
    ->Arg(60)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);
BENCHMARK(memory)->ArgName("lines")->Arg(1'000'000)->Iterations(1)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
