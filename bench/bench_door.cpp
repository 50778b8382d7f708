// One question as text, one answer as JSON (`run`), beside the same question as values: the
// scenario read from the same text and formulated, without a report. And how long a hostile proof
// is read on after its time is over.
#include <benchmark/benchmark.h>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/load_stopped.hpp>
#include <leastwise/proof.hpp>
#include <leastwise/run.hpp>

#include <algorithm>
#include <chrono>
#include <nlohmann/json.hpp>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;
using Json = nlohmann::ordered_json;

namespace {

double seconds_of(const auto& work) {
  const auto start = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

Json json_of(const Limits& limits) {
  if (limits.exact()) return {{"exactly", limits.min}};
  Json json = Json::object();
  if (limits.has_min()) json["min"] = limits.min;
  if (limits.has_max()) json["max"] = limits.max;
  return json;
}

Json json_of(const MaterialDraft& material) {
  Json json{{"form", to_string(*material.form)}, {"price_per_t", *material.price_per_t}};
  if (material.family) json["family"] = *material.family;
  if (material.formula) {
    json["formula"] = *material.formula;
    json["purity_percent"] = material.purity_percent.value_or(100);
    if (material.contains_also_percent)
      for (const Content& content : *material.contains_also_percent)
        json["contains_also_percent"][content.name] = content.percent;
  } else {
    for (const Content& content : *material.contains_percent)
      json["contains_percent"][content.name] = content.percent;
  }
  if (material.ground.value_or(false)) json["ground"] = true;
  if (material.micronutrient_granule.value_or(false)) json["micronutrient_granule"] = true;
  if (material.freight_per_t) json["freight_per_t"] = *material.freight_per_t;
  if (material.share_percent) json["share_percent"] = json_of(*material.share_percent);
  return json;
}

std::string json_text(const ScenarioDraft& draft) {
  Json json{{"leastwise", 1}, {"title", draft.title}, {"currency", "USD"}};
  for (const auto& material : draft.materials) json["materials"][material.name] = json_of(material);
  for (const auto& target : draft.rates_kg_per_ha)
    json["rates_kg_per_ha"][target.nutrient] = json_of(target.limits);
  for (const auto& target : draft.grade_percent)
    json["grade_percent"][target.nutrient] = json_of(target.limits);
  if (draft.total_kg_per_ha) json["blend"]["total_kg_per_ha"] = json_of(*draft.total_kg_per_ha);
  json["blend"]["binder"] = {
      {"material", "sodium-silicate"}, {"percent_of_powder", 37.5}, {"price_per_t", 400}};
  return json.dump();
}

/// Scenarios as JSON that can be blended.
std::vector<std::string> blendable(int materials) {
  std::vector<std::string> list;
  for (std::uint64_t seed = 1; list.size() < 16; ++seed) {
    const auto draft = random_draft(
        seed, {.materials = materials, .either_or = false, .sabotage = 0, .frills = false});
    std::string text = json_text(draft);
    if (formulate(parse_scenario(text), {.intervals = false}).blend() != nullptr)
      list.push_back(std::move(text));
  }
  return list;
}

/// Both sides in turn: `of_values` is how many times as long the door takes.
void door(benchmark::State& state, bool intervals) {
  const auto list = blendable(static_cast<int>(state.range(0)));
  const char* options = intervals ? "" : R"({"intervals": false})";
  double doors = 0;
  double values = 0;
  for (auto _ : state) {
    double here = 0;
    for (const auto& text : list) {
      here += seconds_of([&] { benchmark::DoNotOptimize(run("blend", text, options)); });
      values += seconds_of([&] {
        benchmark::DoNotOptimize(formulate(parse_scenario(text), {.intervals = intervals}));
      });
    }
    doors += here;
    state.SetIterationTime(here);
  }
  const auto count = static_cast<double>(list.size()) * static_cast<double>(state.iterations());
  state.counters["us_each"] = 1e6 * doors / count;
  state.counters["of_values"] = doors / values;
}

/// How long reading goes on after it was asked to stop, `delay` seconds from its start.
double late_by(const std::string& proof, double delay) {
  std::stop_source stop;
  std::chrono::steady_clock::time_point asked;
  std::jthread watch([&] {
    std::this_thread::sleep_for(std::chrono::duration<double>(delay));
    asked = std::chrono::steady_clock::now();
    stop.request_stop();
  });
  try {
    benchmark::DoNotOptimize(parse_proof(proof, "proof", stop.get_token()));
  } catch (const InputError&) {
  } catch (const LoadStopped&) {
  }
  const auto end = std::chrono::steady_clock::now();
  watch.join();
  return std::max(0.0, std::chrono::duration<double>(end - asked).count());
}

/// A proof of 16 MB whose one list goes on and on: how long it takes to be refused, and how late a
/// request to stop is heard at worst.
void hostile_proof(benchmark::State& state) {
  std::string proof =
      R"({"leastwise-proof": 1, "claim": "", "scenario": "", "title": "", "currency": "",
          "basis": "", "cost": "", "seal": "", "cases": [], "portions": [)";
  const std::string portion = R"({"material": "urea", "kg": "1/3"},)";
  while (proof.size() + portion.size() < (std::size_t{16} << 20U) - 2) proof += portion;
  proof.back() = ']';
  proof += '}';
  double late = 0;
  for (auto _ : state) {
    state.SetIterationTime(seconds_of([&] {
      try {
        benchmark::DoNotOptimize(parse_proof(proof));
      } catch (const InputError&) {
      }
    }));
    for (const double delay : {0.02, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6})
      late = std::max(late, late_by(proof, delay));
  }
  state.counters["s_late"] = late;
}

void sizes(benchmark::internal::Benchmark* bench) {
  bench->ArgName("materials")->Arg(12)->Arg(25)->Arg(60)->UseManualTime();
  bench->Unit(benchmark::kMillisecond);
}
BENCHMARK_CAPTURE(door, everything, true)->Apply(sizes);
BENCHMARK_CAPTURE(door, blend_alone, false)->Apply(sizes);
BENCHMARK(hostile_proof)->UseManualTime()->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
