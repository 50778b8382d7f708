#include <doctest/doctest.h>

#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/price_map.hpp>

#include <algorithm>
#include <stop_token>
#include <string>
#include <thread>
#include <vector>

using namespace leastwise;

namespace {

Scenario scenario() {
  return parse_scenario(R"(leastwise: 1
currency: USD
materials:
  urea: {form: granule, contains_percent: {N: 46}, price_per_t: 460}
  nitrate: {form: granule, contains_percent: {N: 27}, price_per_t: 300}
  sulfate: {form: granule, contains_percent: {N: 21}, price_per_t: 190}
rates_kg_per_ha:
  N: {min: 46}
)",
                        "progress.yaml");
}

/// What was told, and on how many threads.
struct Heard {
  struct Step {
    std::string of{};
    long done = 0;
    long all = 0;
  };
  std::vector<Step> steps{};
  bool same_thread = true;

  ProgressCallback ear() {
    return [this, here = std::this_thread::get_id()](const Progress& progress) {
      same_thread = same_thread && here == std::this_thread::get_id();
      steps.push_back({std::string(progress.of), progress.done, progress.all});
    };
  }

  [[nodiscard]] std::vector<Step> of(std::string_view what) const {
    std::vector<Step> some;
    std::ranges::copy_if(steps, std::back_inserter(some),
                         [&](const Step& step) { return step.of == what; });
    return some;
  }
};

}  // namespace

TEST_SUITE("progress") {
  TEST_CASE("every linear program of a formulation is told of, on the caller's thread") {
    Heard heard;
    SolveOptions options;
    options.progress = heard.ear();
    const auto answer = formulate(scenario(), options);
    REQUIRE(answer.blend() != nullptr);
    REQUIRE_FALSE(heard.steps.empty());
    CHECK(heard.same_thread);
    for (std::size_t k = 0; k < heard.steps.size(); ++k) {
      CHECK(heard.steps[k].of == "linear programs");
      CHECK(heard.steps[k].done == static_cast<long>(k) + 1);
      CHECK(heard.steps[k].all == 0);
    }
    // Being told changes nothing.
    CHECK(formulate(scenario()).blend()->cost_per_ha == answer.blend()->cost_per_ha);
  }

  TEST_CASE("a list of alternatives tells how many are settled of how many") {
    Heard heard;
    SolveOptions limits;
    limits.progress = heard.ear();
    const auto list = alternatives(scenario(), 3, limits);
    const auto blends = heard.of("blends");
    REQUIRE_FALSE(blends.empty());
    CHECK(blends.back().done == static_cast<long>(list.list.size()));
    CHECK(blends.back().all == 3);
    CHECK(static_cast<long>(heard.of("linear programs").size()) == list.solves);
  }

  TEST_CASE("a comparison tells of each line") {
    Heard heard;
    SolveOptions limits;
    limits.progress = heard.ear();
    const std::vector<NamedScenario> two{{"one", scenario()}, {"two", scenario()}};
    const auto comparison = compare(two, limits);
    const auto lines = heard.of("lines");
    REQUIRE(lines.size() == comparison.lines.size());
    CHECK(lines.back().done == 2);
    CHECK(lines.back().all == 2);
  }

  TEST_CASE("a price map tells of its solves") {
    Heard heard;
    SolveOptions limits;
    limits.progress = heard.ear();
    const auto map = price_map(scenario(), "urea", 200, 900, limits);
    CHECK(map.bands.size() > 1);
    CHECK(static_cast<long>(heard.steps.size()) >= map.solves);
  }

  TEST_CASE("a blend that is proved before a request to stop says that it was asked to") {
    std::stop_source source;
    SolveOptions options;
    options.stop = source.get_token();
    // The first linear program is the whole search; the rest would be intervals.
    options.progress = [&](const Progress&) { source.request_stop(); };
    const auto answer = formulate(scenario(), options);
    REQUIRE(answer.blend() != nullptr);
    const auto& notes = answer.blend()->notes;
    const auto about = [&](std::string_view words) {
      return std::ranges::any_of(
          notes, [&](const Note& note) { return note.text.find(words) != std::string::npos; });
    };
    CHECK(about("Stopped on request before every interval"));
    CHECK_FALSE(about("time limit"));
  }
}
