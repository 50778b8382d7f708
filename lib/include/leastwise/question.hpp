#pragma once
#include <leastwise/export.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/prepared.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/risk.hpp>
#include <leastwise/rounding.hpp>
#include <leastwise/rule_id.hpp>

#include <cstdint>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace leastwise {

// Questions as values: what a command of the tool may be told, for programs that hand questions on
// rather than call one function each. `ask` checks a question against its scenario and answers it.

/// A question does not fit its scenario, or its own parts do not fit together.
class LEASTWISE_API QuestionError : public std::invalid_argument {
 public:
  /// `message` reads on after the option's name: `expects a whole number ...`.
  QuestionError(std::string option, const std::string& message)
      : std::invalid_argument(message), option_(std::move(option)) {}
  /// Which part is meant, as `run` spells it: `within`, `least_of`.
  [[nodiscard]] const std::string& option() const noexcept { return option_; }

 private:
  std::string option_;
};

/// A price that differs from the scenario's, in the units of the scenario.
struct PriceChange {
  std::string material{};  ///< its name
  double price_per_t = 0;  ///< currency per tonne, or per short ton of a scenario in US units
};

/// The cheapest blend, off or on the grid of a scale.
struct BlendQuestion {
  std::optional<double> step_kg{};         ///< whole steps of a scale, 0.001 to 1000 kg
  std::optional<double> batch_kg{};        ///< needs `step_kg`; per-tonne scenarios
  std::optional<double> batch_hectares{};  ///< needs `step_kg`; per-hectare scenarios
  bool intervals = true;                   ///< as `SolveOptions::intervals`
  std::vector<std::string> why{};          ///< materials to explain; none with `step_kg`
};

/// A price to vary.
struct VariedPrice {
  std::string material{};  ///< its name
  /// Per tonne, or per short ton of a scenario in US units; else from a quarter of the price to
  /// three times it.
  std::optional<Limits> range{};
};

/// A limit to vary.
struct VariedLimit {
  std::string rule{};  ///< its name in reports: `rate N min`
  Limits range{};      ///< in the unit of the rule, lb/acre or lb where the scenario is in US units
};

/// A map of the least cost: over one price, two prices, or a limit.
struct PricesQuestion {
  std::vector<VariedPrice> vary{};     ///< one or two; none with `limit`
  std::optional<VariedLimit> limit{};  ///< instead of prices
  std::optional<int> samples{};        ///< 2 to 100000, with `limit`: where the map is not exact
};

/// What uncertain prices do to the cost.
struct RiskQuestion {
  std::optional<long> draws{};          ///< instead of what the scenario says
  std::optional<std::uint64_t> seed{};  ///< instead of what the scenario says
  unsigned threads = 0;                 ///< 0: all; changes nothing but the time
};

/// The next-best blends, or with `within` one that is best in another way.
struct AlternativesQuestion {
  std::optional<int> count{};                ///< 1 to 100000; default 5
  std::optional<double> within{};            ///< how much more the blend may cost, percent
  std::optional<SecondaryObjective> wish{};  ///< needs `within`
  std::string least_of{};                    ///< for `SecondaryObjective::least_of`
};

/// Scenarios side by side.
struct CompareQuestion {
  std::string source{};  ///< a nutrient: force each of its sources in turn; empty: variants
};

/// Every question about one scenario.
using Question = std::variant<BlendQuestion, PricesQuestion, RiskQuestion, AlternativesQuestion,
                              CompareQuestion>;

/// An answer to one of them. Each is written by `to_text`, `to_json`, `to_csv`, `to_html`,
/// `to_svg`.
using Answer = std::variant<Formulation, RoundedBlend, PriceMap, PriceRegions, LimitMap, PriceRisk,
                            Alternatives, NearOptimum, Comparison>;

/// Answers `question` about `scenario`.
///
/// Throws: QuestionError when it does not fit the scenario.
/// Thread safety and determinism: as `formulate`.
[[nodiscard]] LEASTWISE_API Answer ask(const Scenario& scenario, const Question& question,
                                       const SolveOptions& limits = {});

/// `scenario` at other prices. Throws: QuestionError, option `price`.
[[nodiscard]] LEASTWISE_API Scenario with_prices(const Scenario& scenario,
                                                 std::span<const PriceChange> prices);

/// The rule of that name: `rate N min`, `grade Cl max`, `total max`, `share urea max`, `bins`.
/// Throws: QuestionError, option `limit`, with the nearest name.
[[nodiscard]] LEASTWISE_API RuleId rule_named(const Scenario& scenario, std::string_view name);

/// `scenario` with another limit of a rule, in the units of the scenario: kg/ha, or lb/acre where
/// it is in US units. Throws: QuestionError, option `limit`, for a rule whose limit it does not
/// state; InputError when no such limit may be stated.
[[nodiscard]] LEASTWISE_API Scenario with_limit(const Scenario& scenario, std::string_view rule,
                                                double limit);

/// Answers many questions as `formulate_many` does, without intervals; but `limits` is for the
/// whole call, and its progress is told on the thread of the call. Questions that it leaves no time
/// for are `stopped`.
/// Throws: QuestionError, InputError for a question that does not fit.
[[nodiscard]] LEASTWISE_API std::vector<Formulation> ask_many(const PreparedBlend& prepared,
                                                              std::span<const WhatIf> questions,
                                                              unsigned threads = 0,
                                                              const SolveOptions& limits = {});

/// `; did you mean 'blend'?` for the nearest of `known` within two edits; otherwise nothing. Words
/// of a name count one by one, for one letter makes another nutrient.
[[nodiscard]] LEASTWISE_API std::string did_you_mean(std::string_view word,
                                                     const std::vector<std::string>& known);

}  // namespace leastwise
