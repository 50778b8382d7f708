#include "scenario/builder.hpp"

#include <utility>

#include "scenario/values_read.hpp"

namespace leastwise {

namespace {

/// Whether nothing differs that tells the nature of a material.
bool same_substance(const Material& a, const Material& b) {
  return a.name == b.name && a.family == b.family && a.formula == b.formula &&
         a.contains_percent == b.contains_percent && a.form == b.form && a.ground == b.ground &&
         a.micronutrient_granule == b.micronutrient_granule && a.source == b.source;
}

}  // namespace

ScenarioBuilder::ScenarioBuilder(ScenarioDraft draft, Reading reading, std::stop_token stop,
                                 const Scenario* like)
    : scenario_([&] {
        Scenario scenario;
        scenario.draft_ = std::move(draft);
        return scenario;
      }()),
      draft_(scenario_.draft_),
      diagnostics_(draft_, std::move(reading)),
      checks_(draft_, diagnostics_),
      stop_(std::move(stop)),
      like_(like) {}

Scenario ScenarioBuilder::build() && {
  checks_.text("title", "the title", draft_.title);
  checks_.text("currency", "the currency", draft_.currency);
  scenario_.title_ = draft_.title;
  scenario_.currency_ = draft_.currency;
  scenario_.notes_ = draft_.notes;
  index_prices();
  resolve_materials();
  tell_natures();
  resolve_basis();
  take_published_figures();
  resolve_sizes();
  resolve_dryness();
  resolve_targets();
  resolve_ratios();
  check_published_figures();
  resolve_blend_settings();
  check_purchases();
  resolve_compatibility();
  keep_dry_pairs_apart();
  check_fire();
  check_risk();
  check_quote();
  if (!diagnostics_.empty()) throw InputError(diagnostics_.take());
  resolve_costs();
  resolve_reported();
  resolve_unasked();
  resolve_margins();
  add_remarks();
  remark_on_traces();
  remark_on_tolerances();
  remember_values(scenario_.draft_);
  scenario_.natures_ = std::make_shared<const std::vector<Nature>>(std::move(natures_));
  return std::move(scenario_);
}

void ScenarioBuilder::tell_natures() {
  const auto known = like_ == nullptr ? std::span<const Material>{} : like_->materials();
  natures_.reserve(scenario_.materials_.size());
  for (std::size_t i = 0; i < scenario_.materials_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    const bool same = i < known.size() && same_substance(material, known[i]);
    natures_.push_back(same ? natures_of(*like_)[i] : nature_of(material));
  }
}

void ScenarioBuilder::add_note(NoteLevel level, NoteCode code, std::vector<std::string> subjects,
                               std::string text, std::string source) {
  scenario_.notes_.push_back(
      {level, code, std::move(subjects), std::move(text), std::move(source)});
}

}  // namespace leastwise
