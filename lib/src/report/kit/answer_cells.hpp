#pragma once
#include <leastwise/outcome.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "report/kit/page.hpp"

namespace leastwise::report {

// What the reports of maps, lists and comparisons share.

/// One line of RFC 4180, with its end; no text in it is a formula to a spreadsheet.
[[nodiscard]] std::string csv_line(const std::vector<std::string>& cells);
/// `optimal`, `infeasible` or `stopped`: the last cell of every line of a map or a list.
[[nodiscard]] std::string csv_status(const Outcome& outcome);
/// The only line of an answer that has nothing to list: `columns` cells, all empty but the status.
[[nodiscard]] std::string csv_nothing(std::size_t columns, const Outcome& outcome);
[[nodiscard]] std::string csv_number(const std::optional<double>& value);
/// `urea 38.5; map 12`: materials with kg per tonne of product.
[[nodiscard]] std::string csv_recipe(std::span<const Portion> portions);

/// `urea 385, map 120`: materials with kg per tonne of product, for reading.
[[nodiscard]] std::string recipe_words(std::span<const Portion> portions);

/// What sets a recipe apart from another one: `+ zinc-sulfate 8.2, - zinc-oxide`; of recipes of the
/// same materials the amounts that differ, the most first. Empty for equal recipes.
[[nodiscard]] std::string told_apart(std::span<const Portion> recipe,
                                     std::span<const Portion> first);

/// The amount of `material` in `blend`, per hectare where it has one, else per tonne.
[[nodiscard]] double kg_of(const Blend& blend, const std::string& material);

/// The cost that was minimised.
[[nodiscard]] double cost_of(const Blend& blend);
/// `USD/ha`.
[[nodiscard]] std::string cost_heading(std::string_view currency, Basis basis,
                                       Units units = Units::metric);
/// `USD/t` of a material.
[[nodiscard]] std::string price_heading(std::string_view currency, Units units = Units::metric);
/// The names of columns, comma-separated, as those of `units`: `lb_per_acre` for `kg_per_ha`.
[[nodiscard]] std::string csv_header(std::string_view metric_header, Units units);

/// Says why the page is not complete; nothing when it is.
void write_outcome(Page& page, const Outcome& outcome);

}  // namespace leastwise::report
