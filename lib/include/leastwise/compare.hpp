#pragma once
#include <leastwise/export.h>
#include <leastwise/blend_indices.hpp>
#include <leastwise/note.hpp>
#include <leastwise/outcome.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// A scenario under the name by which a comparison lists it.
struct NamedScenario {
  std::string name{};  ///< as the comparison prints it
  Scenario scenario;   ///< the scenario itself
};

/// The scenario as it stands, named `as written`, and then each of its `variants`.
///
/// A material left out stays in the scenario with a share of at most 0 %, so that an order that
/// cannot do without it is a conflict that names it: `without urea`. A variant of the name
/// `as written` is listed as `as written (variant)`.
/// Throws: InputError with what is wrong in any variant, each finding at its place.
[[nodiscard]] LEASTWISE_API std::vector<NamedScenario> with_variants(const Scenario& scenario);

/// The draft of `scenario` changed by `variant`. Throws: InputError.
[[nodiscard]] LEASTWISE_API Scenario varied(const Scenario& scenario, const VariantDraft& variant);

/// One line of a comparison.
struct ComparedScenario {
  std::string name{};             ///< its line; no two of a comparison are the same
  std::string title{};            ///< of its scenario
  std::string currency{};         ///< of its scenario
  Formulation answer{Stopped{}};  ///< as `formulate` gives it
  /// Cost minus that of the first line; empty where either has no blend or not this basis, or where
  /// their currencies differ.
  std::optional<double> difference_per_ha{};
  std::optional<double> difference_per_t{};  ///< the same per tonne of product
  /// Sodium nitrate = 100, weighed by mass; Mortvedt 2001, lib/data/salt_index.csv.
  BlendIndex salt_index{};
  /// kg of calcium carbonate per 100 kg of product; negative: what it takes to make up for the
  /// acid. The extension table in lib/data/acidity.csv.
  BlendIndex acidity{};
};

/// Scenarios side by side, each with its answer.
struct Comparison {
  std::string nutrient{};                 ///< for a comparison of sources
  std::vector<ComparedScenario> lines{};  ///< in the order given, or ranked
  std::vector<Note> notes{};              ///< why some lines have no difference
};

/// Formulates each scenario. A scenario that cannot be blended is a line like any other; so is one
/// that a limit stopped. Prices of rules are given, their intervals are not. Of two lines of one
/// name the later is called `name (2)`.
/// Thread safety: as `formulate`. Deterministic.
[[nodiscard]] LEASTWISE_API Comparison compare(std::span<const NamedScenario> scenarios,
                                               const SolveOptions& limits = {});

/// Forces each source of `nutrient` in turn, ranked by cost; the free choice comes first.
///
/// A source is a material that may enter and holds at least 1 % of the nutrient; while one is
/// forced, the others are left out. What other materials bring along in traces still counts.
/// Throws: std::invalid_argument when no material is a source.
[[nodiscard]] LEASTWISE_API Comparison compare_sources(const Scenario& scenario,
                                                       std::string_view nutrient,
                                                       const SolveOptions& limits = {});

}  // namespace leastwise
