#pragma once
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/diagnostic_sink.hpp"

namespace leastwise::analysis {

/// A material counts as a source of a nutrient from this content on.
inline constexpr double source_percent = 1;

/// The materials of `scenario` that may enter and are sources of `nutrient`, in order.
[[nodiscard]] std::vector<std::string> sources_of(const Scenario& scenario,
                                                  std::string_view nutrient);

/// A rule of a draft that a variant may drop.
struct DraftRule {
  RuleId id{};
  std::string path{};            ///< dotted, of its limits
  std::function<void()> drop{};  ///< takes it out of the draft; to be called once, of one rule
};

/// What can be dropped of `draft`: every rule but families kept apart, materials left out and what
/// guards people and fields.
[[nodiscard]] std::vector<DraftRule> rules_to_drop(ScenarioDraft& draft);

/// Changes the draft of `scenario` as `variant` says; complains to `diagnostics`, whose draft must
/// be that of `scenario`.
[[nodiscard]] ScenarioDraft varied_draft(const Scenario& scenario, const VariantDraft& variant,
                                         DiagnosticSink& diagnostics);

}  // namespace leastwise::analysis
