#pragma once
#include <leastwise/formulation.hpp>

#include <span>
#include <string>

#include "report/kit/table.hpp"

namespace leastwise::report {

/// What to weigh out: material, kg/ha, kg/t, cost, share of the cost; with binder, fee and total.
[[nodiscard]] Table recipe_table(const Blend& blend);

/// The same for a blend that is not proved and whose binder and fee are not known apart.
[[nodiscard]] Table portions_table(std::span<const Portion> portions, Basis basis, Units units,
                                   std::string_view currency);

/// `60 to 66`, `at least 46`, `at most 4`, `exactly 30`; empty when nothing is asked.
[[nodiscard]] std::string asked_words(const Limits& limits);
/// The same of the percentage of a nutrient, with what is declared where a tolerance lowers it.
[[nodiscard]] std::string asked_percent_words(const Supply& supply);

/// What the blend holds beside what was asked.
[[nodiscard]] Table supply_table(const Blend& blend);

}  // namespace leastwise::report
