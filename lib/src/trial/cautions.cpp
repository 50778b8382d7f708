#include "trial/cautions.hpp"

#include <leastwise/hazard.hpp>
#include <leastwise/toxic_element.hpp>

#include <algorithm>
#include <string>
#include <string_view>

#include "scenario/family_checks.hpp"

namespace leastwise::trial {
namespace {

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
    const auto carries = [&](const Material& material) {
      return std::ranges::any_of(hazards_of(material), [&](const Hazard& hazard) {
        return hazard.kind == HazardClass::toxic_element && hazard.detail == element.symbol;
      });
    };
    if (those_in_load(scenario, plan, carries).empty()) continue;
    cautions.push_back({NoteLevel::caution,
                        NoteCode::toxic_element,
                        {element.symbol},
                        element.at_work,
                        element.source});
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

std::vector<Note> cautions_for_solution(const Material& material) {
  std::vector<Note> cautions;
  for (const auto& element : toxic_elements()) {
    const bool carries = std::ranges::any_of(hazards_of(material), [&](const Hazard& hazard) {
      return hazard.kind == HazardClass::toxic_element && hazard.detail == element.symbol;
    });
    if (!carries) continue;
    cautions.push_back({NoteLevel::caution,
                        NoteCode::toxic_element,
                        {element.symbol},
                        element.at_work,
                        element.source});
  }
  cautions.push_back(
      {NoteLevel::caution,
       NoteCode::sprayed_on,
       {material.name},
       "Clean water and nothing else: no oil, no wetting agent, no second powder. Goggles, gloves, "
       "overalls and boots; a fitted respirator while the powder is open. Coarse drops, low "
       "pressure, no wind, well away from water; keep people and animals off until it is dry. "
       "Follow local rules for spraying."});
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
