#pragma once
#include <leastwise/season_plan.hpp>

#include <string>

#include "report/drawing/picture.hpp"

namespace leastwise::report {

/// ` by april`, or nothing in a season of one period.
[[nodiscard]] std::string by_period(const SeasonPlan& plan, std::size_t period);

/// `at most 20000 kg of map by april`.
[[nodiscard]] std::string shared_words(const SeasonPlan& plan, const SharedLimitPlan& limit);

/// Whether the price of the limit is anything but 0, or not known to be 0.
[[nodiscard]] bool is_scarce(const SharedLimitPlan& limit);

/// What a tonne more or less of a limit adds to the cost: `+8.91`, `0`; `no plan`, `?`.
[[nodiscard]] std::string change_words(const Known<double>& rise);

/// A rule of a conflict as a sentence, and how far it alone must change.
[[nodiscard]] std::string conflict_words(const SeasonPlan& plan, const SeasonConflictRule& rule);

/// What the blends take of the materials that are scarce, in the plan and alone.
[[nodiscard]] Picture scarce_picture(const SeasonPlan& plan);

}  // namespace leastwise::report
