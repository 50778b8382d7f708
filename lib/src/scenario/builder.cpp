#include "scenario/builder.hpp"

#include <utility>

#include "scenario/values_read.hpp"

namespace leastwise {

ScenarioBuilder::ScenarioBuilder(ScenarioDraft draft, Reading reading, std::stop_token stop)
    : scenario_([&] {
        Scenario scenario;
        scenario.draft_ = std::move(draft);
        return scenario;
      }()),
      draft_(scenario_.draft_),
      findings_(draft_, std::move(reading)),
      checks_(draft_, findings_),
      stop_(std::move(stop)) {}

Scenario ScenarioBuilder::build() && {
  checks_.text("title", "the title", draft_.title);
  checks_.text("currency", "the currency", draft_.currency);
  scenario_.title_ = draft_.title;
  scenario_.currency_ = draft_.currency;
  scenario_.notes_ = draft_.notes;
  index_prices();
  resolve_materials();
  for (const auto& material : scenario_.materials_) natures_.push_back(nature_of(material));
  resolve_basis();
  resolve_targets();
  resolve_ratios();
  resolve_blend_settings();
  resolve_compatibility();
  check_fire();
  check_risk();
  if (!findings_.empty()) throw InputError(findings_.take());
  resolve_costs();
  resolve_reported();
  resolve_unasked();
  resolve_margins();
  add_remarks();
  remark_on_tolerances();
  remember_values(scenario_.draft_);
  return std::move(scenario_);
}

void ScenarioBuilder::remark(NoteLevel level, NoteCode code, std::vector<std::string> subjects,
                             std::string text) {
  scenario_.notes_.push_back({level, code, std::move(subjects), std::move(text)});
}

}  // namespace leastwise
