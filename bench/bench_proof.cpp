// How long does it take to prove a blend in exact arithmetic, and to check the proof?
#include <benchmark/benchmark.h>
#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <optional>
#include <vector>

#include "property/proof/hard_draft.hpp"
#include "support/generator.hpp"

namespace {

using namespace leastwise;

/// Scenarios of 25 materials with every kind of rule; those with a proof, and their proofs.
struct Questions {
  std::vector<Scenario> scenarios{};
  std::vector<Proof> proofs{};

  void add(Scenario scenario) {
    auto proven = formulate_with_proof(scenario);
    if (!proven.proof) return;
    scenarios.push_back(std::move(scenario));
    proofs.push_back(*std::move(proven.proof));
  }
};

const Questions& of_25_materials() {
  static const Questions questions = [] {
    Questions all;
    for (std::uint64_t seed = 1; seed <= 20; ++seed)
      all.add(support::random_scenario(seed, {.materials = 25}));
    return all;
  }();
  return questions;
}

const Questions& of_400_materials() {
  static const Questions questions = [] {
    Questions all;
    for (std::uint64_t seed = 1; seed <= 3; ++seed)
      all.add(Scenario(support::hard_draft(seed, support::Hardship::large)));
    return all;
  }();
  return questions;
}

template <class Work>
void measure(benchmark::State& state, const Questions& questions, Work work) {
  std::size_t k = 0;
  for (auto _ : state) {
    work(questions, k);
    k = (k + 1) % questions.scenarios.size();
  }
  std::size_t bytes = 0;
  std::size_t cases = 0;
  for (const auto& proof : questions.proofs) {
    bytes = std::max(bytes, to_json(proof).size());
    cases = std::max(cases, proof.cases.size());
  }
  state.counters["largest_bytes"] = static_cast<double>(bytes);
  state.counters["most_cases"] = static_cast<double>(cases);
}

void formulate_only(const Questions& questions, std::size_t k) {
  benchmark::DoNotOptimize(formulate(questions.scenarios[k], {.intervals = false}));
}
void formulate_fully(const Questions& questions, std::size_t k) {
  benchmark::DoNotOptimize(formulate(questions.scenarios[k]));
}
void prove(const Questions& questions, std::size_t k) {
  benchmark::DoNotOptimize(formulate_with_proof(questions.scenarios[k], {.intervals = false}));
}
void check(const Questions& questions, std::size_t k) {
  benchmark::DoNotOptimize(verify(questions.proofs[k], questions.scenarios[k]));
}
void read_and_check(const Questions& questions, std::size_t k) {
  static const auto texts = [&] {
    std::vector<std::string> all;
    for (const auto& proof : questions.proofs) all.push_back(to_json(proof));
    return all;
  }();
  benchmark::DoNotOptimize(verify(parse_proof(texts[k]), questions.scenarios[k]));
}

#define LEASTWISE_MEASURE(size, work)                                                            \
  void work##_##size(benchmark::State& state) { measure(state, of_##size##_materials(), work); } \
  BENCHMARK(work##_##size)->Unit(benchmark::kMillisecond)

LEASTWISE_MEASURE(25, formulate_only);
LEASTWISE_MEASURE(25, formulate_fully);
LEASTWISE_MEASURE(25, prove);
LEASTWISE_MEASURE(25, check);
LEASTWISE_MEASURE(25, read_and_check);
LEASTWISE_MEASURE(400, formulate_only);
LEASTWISE_MEASURE(400, prove);
LEASTWISE_MEASURE(400, check);

}  // namespace

BENCHMARK_MAIN();
