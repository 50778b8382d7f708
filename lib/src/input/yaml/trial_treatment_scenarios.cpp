#include <algorithm>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/trial_keys.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

constexpr std::string_view rates_path = "rates_kg_per_ha";

/// Forgets where `path` and what is below it stood.
void forget(NodeReader::Places& places, const std::string& path) {
  places.erase(path);
  const std::string start = path + ".";
  auto it = places.lower_bound(start);
  while (it != places.end() && it->first.compare(0, start.size(), start) == 0)
    it = places.erase(it);
}

void set_target(std::vector<TargetDraft>& targets, const std::string& nutrient,
                const Limits& limits) {
  const auto found = std::find_if(targets.begin(), targets.end(), [&](const TargetDraft& target) {
    return target.nutrient == nutrient;
  });
  if (found != targets.end()) {
    found->limits = limits;
  } else {
    targets.push_back({nutrient, limits});
  }
}

/// Reads targets that take the place of those of the same name.
void override_targets(NodeReader& reader, const Node& node, const std::string& path,
                      NodeReader::Places& places, std::vector<TargetDraft>& targets) {
  for (const auto& entry : node.entries) forget(places, path_below(path, entry.key.text));
  reader.names(node, path, "N: {min: 60}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 const auto limits = read_limits(reader, value, place);
                 set_target(targets, key.text, limits.value_or(Limits{}));
               });
}

void override_use(NodeReader& reader, const Node& node, ScenarioDraft& draft) {
  forget(draft.places, "use");
  reader.remember("use", node.spot);
  if (auto names = reader.material_names(node, "use")) draft.use = std::move(names);
}

}  // namespace

TreatmentScenarios::TreatmentScenarios(NodeReader& reader, TrialText& trial, Reading& reading,
                                       std::filesystem::path folder, LoadOptions options)
    : reader_(reader),
      trial_(trial),
      scenarios_(reader, trial.draft.source_lines.find(reader.name())->second, reading,
                 std::move(folder), std::move(options), "trial") {}

void TreatmentScenarios::build() {
  // A base that cannot be read says so even when no treatment needs it.
  if (trial_.base != nullptr && base() == nullptr) reader_.mark_unreadable("base");
  for (const auto& text : trial_.treatments) build(text);
}

const ReadScenario* TreatmentScenarios::base() {
  return trial_.base == nullptr ? nullptr : scenarios_.at(*trial_.base, "base");
}

void TreatmentScenarios::check_kind(const TreatmentText& text) {
  const bool changes = text.rates != nullptr || text.grades != nullptr || text.total != nullptr ||
                       text.use != nullptr || !text.without.empty() ||
                       !text.only_source_of.empty() || !text.form_of.empty();
  if (text.nothing &&
      (changes || text.scenario != nullptr || text.recipe != nullptr || text.product != nullptr)) {
    reader_.error(codes::treatment_kind, text.path, text.spot,
                  "nothing: true must stand alone, found other keys in treatment " +
                      in_quotes(text.name) + "; keep one of the two");
  } else if (text.recipe != nullptr && changes) {
    reader_.error(codes::treatment_kind, text.path, text.spot,
                  "a fixed recipe asks for nothing, found rates_kg_per_ha, grade_percent, "
                  "total_kg_per_ha, use or a choice of sources beside it in treatment " +
                      in_quotes(text.name) + "; keep one of the two");
  }
}

std::optional<ReadScenario> TreatmentScenarios::start_of(const TreatmentText& text) {
  if (text.scenario == nullptr && trial_.base == nullptr) {
    reader_.error(codes::treatment_kind, text.path, text.spot,
                  "treatment " + in_quotes(text.name) +
                      " must say what is spread, found neither scenario nor nothing: true, and the "
                      "trial has no base to start from; add one of them");
    return std::nullopt;
  }
  const ReadScenario* start =
      text.scenario == nullptr ? base()
                               : scenarios_.at(*text.scenario, path_below(text.path, "scenario"));
  if (start == nullptr) {
    reader_.mark_unreadable(text.path);
    return std::nullopt;
  }
  return *start;
}

void TreatmentScenarios::apply(const TreatmentText& text, ReadScenario& scenario) {
  ScenarioDraft& draft = scenario.draft;
  draft.of_variant = true;
  NodeReader reader(reader_.name(), draft.source_lines, draft.places, scenario.reading);
  if (text.rates != nullptr) {
    override_targets(reader, *text.rates, std::string(rates_path), draft.places,
                     draft.rates_kg_per_ha);
  }
  if (text.grades != nullptr) {
    override_targets(reader, *text.grades, "grade_percent", draft.places, draft.grade_percent);
  }
  if (text.total != nullptr) {
    forget(draft.places, "blend.total_kg_per_ha");
    reader.remember("blend.total_kg_per_ha", text.total->spot);
    draft.total_kg_per_ha = read_limits(reader, *text.total, "blend.total_kg_per_ha");
  }
  if (text.use != nullptr) override_use(reader, *text.use, draft);
  if (text.cell == nullptr) return;
  for (std::size_t i = 0; i < text.cell->rates_kg_per_ha.size(); ++i) {
    const auto& rate = text.cell->rates_kg_per_ha[i];
    const std::string path = path_below(rates_path, rate.nutrient);
    forget(draft.places, path);
    reader.remember(path, text.cell_levels[i]->spot);
  }
  set_rates(draft, *text.cell);
}

void TreatmentScenarios::apply_recipe(const TreatmentText& text, ReadScenario& scenario,
                                      TreatmentDraft& treatment) {
  ScenarioDraft& draft = scenario.draft;
  draft.of_variant = true;
  for (const auto* path : {"use", "rates_kg_per_ha", "grade_percent", "ratios", "make"}) {
    forget(draft.places, path);
  }
  draft.rates_kg_per_ha.clear();
  draft.ratios.clear();
  draft.total_kg_per_ha.reset();
  draft.bins.reset();
  draft.make_hectares.reset();
  draft.make_tonnes.reset();
  // The scenario only describes the materials; this asks nothing of them.
  Limits anything;
  anything.max = 100;
  draft.grade_percent = {{"N", anything}};
  draft.use.emplace();
  NodeReader own(reader_.name(), draft.source_lines, draft.places, scenario.reading);
  own.remember("use", text.recipe->spot);
  reader_.names(*text.recipe, path_below(text.path, "recipe_kg_per_ha"), "{urea: 130, map: 90}",
                [&](const Node& key, const Node& value, const std::string& place) {
                  own.remember(path_below("use", std::to_string(draft.use->size())), key.spot);
                  draft.use->push_back(key.text);
                  if (const auto kg = reader_.number(value, place)) {
                    treatment.recipe_kg_per_ha.push_back({key.text, *kg});
                  }
                });
  if (text.recipe->kind == Node::Kind::mapping && text.recipe->entries.empty()) {
    reader_.error(codes::missing_key, text.path, text.recipe->spot,
                  "a recipe must name materials, such as {urea: 130, map: 90}, found none");
  }
}

void TreatmentScenarios::resolve(const TreatmentText& text, ReadScenario scenario,
                                 TreatmentDraft& treatment) {
  // A recipe is checked as the `use` of its scenario; the user knows it as a recipe.
  if (text.recipe != nullptr) scenario.reading.list_of_materials = "a recipe";
  try {
    treatment.scenario = ScenarioBuilder(std::move(scenario.draft), std::move(scenario.reading),
                                         scenarios_.options().stop)
                             .build();
  } catch (const InputError& error) {
    scenarios_.report(error.diagnostics());
    reader_.mark_unreadable(text.path);
  }
}

void TreatmentScenarios::build(const TreatmentText& text) {
  TreatmentDraft treatment;
  treatment.name = text.name;
  treatment.code = text.code;
  treatment.path = text.path;
  treatment.product_kg_per_ha = text.product_kg_per_ha;
  treatment.repeat = text.repeat;
  treatment.replicates = text.replicates;
  treatment.whole_plot = text.whole_plot;
  treatment.split_percent = text.splits;
  treatment.without = text.without;
  treatment.only_source_of = text.only_source_of;
  treatment.form_of = text.form_of;
  check_kind(text);
  if (!text.nothing) {
    if (auto scenario = start_of(text)) {
      scenario->draft.source_lines.insert(*trial_.draft.source_lines.find(reader_.name()));
      if (text.recipe != nullptr) {
        apply_recipe(text, *scenario, treatment);
      } else {
        apply(text, *scenario);
      }
      if (text.recipe != nullptr && treatment.recipe_kg_per_ha.empty()) {
        reader_.mark_unreadable(text.path);  // said already
      } else {
        resolve(text, std::move(*scenario), treatment);
      }
    }
  }
  trial_.draft.treatments.push_back(std::move(treatment));
}

}  // namespace leastwise
