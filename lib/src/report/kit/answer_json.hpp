#pragma once
#include <leastwise/outcome.hpp>

#include <span>
#include <string>
#include <string_view>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

// What the JSON of maps, lists and comparisons shares.

/// Material, form, kg and cost of each portion, as in the report of a blend.
[[nodiscard]] Json json_portions(std::span<const Portion> portions);
/// Cost, amounts, portions, binder and supply of a blend without prices of rules.
[[nodiscard]] Json json_blend(const Blend& blend);
/// `leastwise`, `report`, `status`, `title`, `currency`, `basis`.
[[nodiscard]] Json json_head(std::string_view report, const Outcome& outcome,
                             const std::string& title, const std::string& currency, Basis basis);
/// `conflict` or `cause` and `detail`, where the outcome has them.
void add_outcome(Json& json, const Outcome& outcome);

}  // namespace leastwise::report
