#include "trial/cautions.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <string>
#include <string_view>

#include "scenario/family_checks.hpp"

namespace leastwise::trial {
namespace {

/// What to mind with a toxic element. Source: common practice and the classes of hazard of
/// Regulation (EC) No 1272/2008 for salts of these elements, from memory.
std::string_view toxic_text(std::string_view symbol) {
  if (symbol == "B") {
    return "Boron is toxic to crops just above its rate and harmful to people: keep to the mass, "
           "spread without overlaps.";
  }
  if (symbol == "Cu") {
    return "Copper is toxic above its rate, to sheep and water life most of all: clean up every "
           "spill.";
  }
  if (symbol == "Se") {
    return "Selenium is poisonous to people and animals in very small amounts: no dust, gloves on, "
           "check the mass twice, keep animals off spills and fresh plots.";
  }
  if (symbol == "Mo") {
    return "Molybdenum above its rate makes fodder that harms cattle and sheep: keep to the mass, "
           "spread without overlaps.";
  }
  if (symbol == "Co") {
    return "Cobalt compounds can cause cancer when breathed in, and allergy on the skin: no dust, "
           "gloves on.";
  }
  return "Nickel compounds can cause cancer when breathed in, and allergy on the skin: no dust, "
         "gloves on.";
}

/// The materials of a load that `holds` is true of, binders left out.
template <class Predicate>
std::vector<std::string> those_in_load(const Scenario& scenario, const TreatmentPlan& plan,
                                       Predicate holds) {
  std::vector<std::string> names;
  for (const auto& weighing : plan.weighings) {
    const auto i = scenario.index_of(weighing.material);
    if (weighing.role == Role::binder || !i) continue;
    if (holds(scenario.materials()[*i])) names.push_back(weighing.material);
  }
  return names;
}

void add_materials(const Scenario& scenario, const TreatmentPlan& plan,
                   std::vector<Note>& cautions) {
  if (auto oxidizers = those_in_load(scenario, plan, is_oxidizer); !oxidizers.empty()) {
    cautions.push_back({NoteLevel::caution, NoteCode::oxidizer, std::move(oxidizers),
                        "Nitrates and other oxidizers feed a fire: keep oil, wax, sawdust, rags "
                        "and other organic matter away, and no flames or sparks."});
  }
  for (const auto& element : toxic_elements()) {
    const auto holds = [&](const Material& material) {
      return content_percent(material, element.symbol) > 0;
    };
    if (those_in_load(scenario, plan, holds).empty()) continue;
    cautions.push_back({NoteLevel::caution,
                        NoteCode::toxic_element,
                        {std::string(element.symbol)},
                        std::string(toxic_text(element.symbol))});
  }
}

void add_handling(const TreatmentPlan& plan, std::vector<Note>& cautions) {
  std::vector<std::string> powders;
  for (const auto& weighing : plan.weighings) {
    if (weighing.role == Role::powder) powders.push_back(weighing.material);
  }
  if (!powders.empty()) {
    cautions.push_back({NoteLevel::caution, NoteCode::dust, std::move(powders),
                        "Powders: wear a fitted particle respirator, goggles and gloves; weigh "
                        "where there is no draught, and wash hands before eating."});
  }
  const bool bucket = plan.mixer_kind == MixerKind::bucket;
  cautions.push_back(
      {NoteLevel::caution,
       NoteCode::mixer_at_work,
       {plan.mixer},
       bucket ? "Bucket: it stays closed while it turns; two people lift and turn a heavy one."
              : "Mixer: guards closed, nothing loose near the drum, hands and tools out while it "
                "turns; unplug it before cleaning."});
}

/// The names of elements that notes of one code have as subjects: `boron, copper`.
std::string toxic_names(const std::vector<Note>& cautions) {
  std::string names;
  for (const auto& element : toxic_elements()) {
    const bool present = std::ranges::any_of(cautions, [&](const Note& note) {
      return note.code == NoteCode::toxic_element && note.subjects.front() == element.symbol;
    });
    if (present) names += (names.empty() ? "" : ", ") + std::string(element.name);
  }
  return names;
}

}  // namespace

std::vector<Note> cautions_for(const Scenario& scenario, const TreatmentPlan& plan) {
  std::vector<Note> cautions;
  add_materials(scenario, plan, cautions);
  add_handling(plan, cautions);
  return cautions;
}

std::vector<Note> hazards_of_product(const TreatmentPlan& plan) {
  std::vector<Note> hazards;
  std::vector<std::string> elements;
  for (const auto& note : plan.cautions) {
    if (note.code == NoteCode::toxic_element) elements.push_back(note.subjects.front());
    if (note.code == NoteCode::oxidizer) {
      hazards.push_back({note.level, note.code, note.subjects, "OXIDIZER: no oil, no fire"});
    }
  }
  if (!elements.empty()) {
    hazards.push_back({NoteLevel::caution, NoteCode::toxic_element, elements,
                       "TOXIC: " + toxic_names(plan.cautions)});
  }
  for (const auto& note : plan.stop_conditions) {
    if (note.code != NoteCode::must_not_be_kept) continue;
    hazards.push_back({note.level, note.code, note.subjects, "SPREAD THE DAY IT IS MIXED"});
  }
  for (const auto& note : plan.cautions) {
    if (note.code != NoteCode::dust) continue;
    hazards.push_back({note.level, note.code, note.subjects, "DUST: wear a respirator"});
  }
  return hazards;
}

}  // namespace leastwise::trial
