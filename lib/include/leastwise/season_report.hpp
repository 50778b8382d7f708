#pragma once
#include <leastwise/export.h>
#include <leastwise/report.hpp>
#include <leastwise/season_plan.hpp>

#include <string>

namespace leastwise {

// A planned season in each format.

/// As a page of plain text.
[[nodiscard]] LEASTWISE_API std::string to_text(const SeasonPlan& plan,
                                                const TextOptions& options = {});
/// As JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const SeasonPlan& plan);
/// As CSV (RFC 4180, LF): a line for each material of each recipe, then what is shared, then what
/// is bought; of a conflict a line for each rule.
[[nodiscard]] LEASTWISE_API std::string to_csv(const SeasonPlan& plan);
/// As a page for a browser or a printer. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const SeasonPlan& plan, Paper paper = Paper::a4);

}  // namespace leastwise
