#include <doctest/doctest.h>
#include <leastwise/load.hpp>

#include <algorithm>
#include <filesystem>
#include <string>

#include "support/folder.hpp"

using namespace leastwise;

namespace {

std::string scenario_text(const std::string& risk) {
  return "leastwise: 1\n"
         "materials:\n"
         "  urea: {price_per_t: 400}\n"
         "  map: {price_per_t: 600}\n"
         "  mop: {price_per_t: 380}\n"
         "rates_kg_per_ha: {N: {min: 60}, P2O5: {min: 40}, K2O: {min: 30}}\n"
         "risk: " +
         risk + "\n";
}

/// `line:column code` of each error.
std::vector<std::string> errors_of(const std::string& text) {
  try {
    static_cast<void>(parse_scenario(text));
  } catch (const InputError& error) {
    std::vector<std::string> list;
    for (const auto& diagnostic : error.diagnostics())
      if (diagnostic.severity == Severity::error)
        list.push_back(std::to_string(diagnostic.place.line) + ":" +
                       std::to_string(diagnostic.place.column) + " " + diagnostic.code);
    return list;
  }
  return {};
}

using Errors = std::vector<std::string>;

/// A scenario and its history in a folder of their own.
class Field {
 public:
  explicit Field(const std::string& history) {
    folder_.write("history.csv", history);
    scenario_ = folder_.write("field.yaml", scenario_text("{history: history.csv}"));
  }
  [[nodiscard]] const std::string& scenario() const { return scenario_; }
  [[nodiscard]] Errors errors() const {
    try {
      static_cast<void>(load_scenario(scenario()));
    } catch (const InputError& error) {
      Errors list;
      for (const auto& d : error.diagnostics())
        list.push_back(std::filesystem::path(d.place.source).filename().string() + ":" +
                       std::to_string(d.place.line) + ":" + std::to_string(d.place.column) + " " +
                       d.code);
      return list;
    }
    return {};
  }

 private:
  support::Folder folder_{};
  std::string scenario_{};
};

}  // namespace

TEST_SUITE("risk in a scenario file") {
  TEST_CASE("every key is read") {
    const auto scenario = parse_scenario(scenario_text(
        "{draws: 500, seed: 9, prices: {urea: {lognormal_percent: 20}, map: {normal_percent: 15}, "
        "mop: {triangular: {min: 300, mode: 380, max: 520}}}, "
        "correlations: [{between: [urea, map], r: 0.6}]}"));
    const PriceUncertainty& risk = *scenario.price_uncertainty();
    CHECK(risk.draws == 500);
    CHECK(risk.seed == 9);
    REQUIRE(risk.prices.size() == 3);
    CHECK(risk.prices[0] == PriceSpread{"urea", PriceShape::lognormal, 20, 0, 0, 0});
    CHECK(risk.prices[1] == PriceSpread{"map", PriceShape::normal, 15, 0, 0, 0});
    CHECK(risk.prices[2] == PriceSpread{"mop", PriceShape::triangular, 0, 300, 380, 520});
    REQUIRE(risk.correlations.size() == 1);
    CHECK(risk.correlations[0] == PriceCorrelation{"urea", "map", 0.6});
  }

  TEST_CASE("a price must be uncertain in one way, by a spread that is not negative") {
    CHECK(errors_of(scenario_text("{prices: {ureas: {normal_percent: 5}}}")) ==
          Errors{"7:17 unknown-material"});
    CHECK(errors_of(scenario_text("{prices: {urea: {normal_percent: -5}}}")) ==
          Errors{"7:40 out-of-range"});
    CHECK(errors_of(scenario_text("{prices: {urea: {}}}")) == Errors{"7:23 one-shape"});
    CHECK(errors_of(scenario_text("{prices: {urea: {normal_percent: 5, lognormal_percent: 5}}}")) ==
          Errors{"7:23 one-shape"});
    CHECK(errors_of(scenario_text("{prices: {urea: {triangular: {min: 3, max: 5}}}}")) ==
          Errors{"7:36 missing-key"});
    CHECK(errors_of(scenario_text("{prices: {urea: {triangular: {min: 3, mode: 9, max: 5}}}}")) ==
          Errors{"7:24 min-over-max"});
    CHECK(errors_of(scenario_text("{draws: 0, prices: {urea: {normal_percent: 5}}}")) ==
          Errors{"7:15 out-of-range"});
    CHECK(errors_of(scenario_text("{draws: 10}")) == Errors{"7:1 missing-key"});
  }

  TEST_CASE("correlations that contradict one another name the pair that breaks them") {
    const std::string prices =
        "prices: {urea: {normal_percent: 5}, map: {normal_percent: 5}, mop: {normal_percent: 5}}";
    try {
      static_cast<void>(parse_scenario(scenario_text(
          "{" + prices +
          ", correlations: [{between: [urea, map], r: 0.9}, {between: [urea, mop], r: 0.9}, "
          "{between: [map, mop], r: -0.95}]}")));
      FAIL("accepted");
    } catch (const InputError& error) {
      REQUIRE(error.diagnostics().size() == 1);
      const auto& found = error.diagnostics()[0];
      CHECK(found.code == "impossible-correlations");
      CHECK(found.message.find("'map' and 'mop' at r = -0.95") != std::string::npos);
      CHECK(found.path == "risk.correlations.2.r");
    }
    CHECK(errors_of(scenario_text("{prices: {urea: {normal_percent: 5}}, correlations: [{between: "
                                  "[urea, map], r: 0.9}]}")) == Errors{"7:61 not-uncertain"});
    CHECK(
        errors_of(scenario_text("{" + prices + ", correlations: [{between: [urea, map], r: 1.5}]}"))
            .size() == 1);
    CHECK(errors_of(
              scenario_text("{" + prices + ", correlations: [{between: [urea, urea], r: 0.5}]}"))
              .size() == 1);
    CHECK(errors_of(scenario_text("{" + prices +
                                  ", correlations: [{between: [urea, map], r: 0.5}, {between: "
                                  "[map, urea], r: 0.5}]}"))
              .size() == 1);
  }

  TEST_CASE("a history is read with its dates") {
    const Field field("date,urea,map\n2025-01,390,610\n2025-02,420,580\n");
    const auto scenario = load_scenario(field.scenario());
    const auto& history = *scenario.price_uncertainty()->history;
    CHECK(history.materials == std::vector<std::string>{"urea", "map"});
    CHECK(history.dates == std::vector<std::string>{"2025-01", "2025-02"});
    CHECK(history.rows == std::vector<std::vector<double>>{{390, 610}, {420, 580}});
  }

  TEST_CASE("gaps and other faults of a history are shown where they are") {
    CHECK(Field("date,urea,map\n2025-01,390,\n2025-02,,580\n").errors() ==
          Errors{"history.csv:2:13 history-gap", "history.csv:3:9 history-gap"});
    CHECK(Field("date,urea\n,390\n").errors() == Errors{"history.csv:2:1 history-gap"});
    CHECK(Field("date,ureas\n2025-01,390\n").errors() ==
          Errors{"history.csv:1:6 unknown-material"});
    CHECK(Field("date,urea\n2025-01,39o\n").errors() == Errors{"history.csv:2:9 bad-number"});
    CHECK(Field("date,urea\n2025-01,390\n2025-01,400\n").errors() ==
          Errors{"history.csv:3:1 bad-table"});
    CHECK(Field("urea,date\n").errors() == Errors{"history.csv:1:1 bad-table"});
    CHECK(Field("date,urea\n").errors() == Errors{"history.csv:1:1 bad-table"});
    CHECK(Field("date,urea\n2025-01,390,400\n").errors() == Errors{"history.csv:2:1 bad-table"});
    CHECK(Field("date,urea\n2025-01,-5\n").errors() == Errors{"history.csv:2:9 unbounded-cost"});
  }
}
