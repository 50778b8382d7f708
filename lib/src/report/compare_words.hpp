#pragma once
#include <leastwise/compare.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

inline constexpr std::string_view salt_index_series =
    "Salt index: the materials' indices by mass, sodium nitrate = 100 (series of Mortvedt 2001); "
    "what has no figure counts 0, as fillers do";
inline constexpr std::string_view acidity_series =
    "Acidity: kg of calcium carbonate per 100 kg of product, by mass; below 0 it takes so much "
    "lime to make up for the acid (extension and university tables, stoichiometry); what has no "
    "figure counts 0, as fillers do";

/// Percent of the product without a published figure.
[[nodiscard]] double uncovered_percent(const BlendIndex& index);

/// kg of calcium carbonate that make up for the acid on a hectare; nothing where the blend is per
/// tonne, or leaves no acid.
[[nodiscard]] std::optional<double> lime_kg_per_ha(const BlendIndex& acidity, const Blend& blend);

/// `22.7-15.2-11.4`: percent N-P2O5-K2O of the product, then other nutrients that are asked for.
[[nodiscard]] std::string grade_words(const Blend& blend);

/// Whether the lines are in more than one currency.
[[nodiscard]] bool currencies_differ(const Comparison& comparison);

/// The rules that no blend can keep together.
[[nodiscard]] std::vector<RuleId> conflict_rules(const Conflict& conflict);

/// The rules that set the price, each once; materials a variant leaves out are none.
[[nodiscard]] std::vector<RuleId> binding_rules(const Blend& blend);

/// What these rules are called.
[[nodiscard]] std::vector<std::string> names_of(const std::vector<RuleId>& rules);

}  // namespace leastwise::report
