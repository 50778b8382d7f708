#pragma once
#include <leastwise/scenario.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "scenario/findings.hpp"

namespace leastwise::insight {

/// A material counts as a source of a nutrient from this content on.
inline constexpr double source_percent = 1;

/// The materials of `scenario` that may enter and are sources of `nutrient`, in order.
[[nodiscard]] std::vector<std::string> sources_of(const Scenario& scenario,
                                                  std::string_view nutrient);

/// Takes a rule out of a draft. Returns: false when no rule has that name.
[[nodiscard]] bool drop_rule(ScenarioDraft& draft, std::string_view rule);

/// Changes the draft of `scenario` as `variant` says; complains to `findings`, whose draft must be
/// that of `scenario`.
[[nodiscard]] ScenarioDraft varied_draft(const Scenario& scenario, const VariantDraft& variant,
                                         Findings& findings);

}  // namespace leastwise::insight
