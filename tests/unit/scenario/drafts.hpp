#pragma once
#include <leastwise/scenario.hpp>

#include <algorithm>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// Small drafts for tests, and what is wrong with a draft.
namespace drafts {

inline leastwise::MaterialDraft material(std::string name, leastwise::Form form,
                                         std::vector<leastwise::Content> contents,
                                         double price_per_t = 100) {
  leastwise::MaterialDraft draft;
  draft.name = std::move(name);
  draft.form = form;
  draft.contains_percent = std::move(contents);
  draft.price_per_t = price_per_t;
  return draft;
}

inline leastwise::MaterialDraft built_in(std::string name, double price_per_t = 100) {
  leastwise::MaterialDraft draft;
  draft.name = std::move(name);
  draft.price_per_t = price_per_t;
  return draft;
}

/// 60 kg N per hectare from one granule with 46 % N.
inline leastwise::ScenarioDraft nitrogen() {
  leastwise::ScenarioDraft draft;
  draft.materials.push_back(material("white", leastwise::Form::granule, {{"N", 46}}, 460));
  draft.rates_kg_per_ha.push_back({"N", {60, 66}});
  return draft;
}

/// `path: code` of each error; empty when the draft is accepted.
inline std::vector<std::string> errors_of(const leastwise::ScenarioDraft& draft) {
  try {
    static_cast<void>(leastwise::Scenario(draft));
    return {};
  } catch (const leastwise::InputError& error) {
    std::vector<std::string> found;
    for (const auto& diagnostic : error.diagnostics()) {
      if (diagnostic.severity == leastwise::Severity::error) {
        found.push_back(diagnostic.path + ": " + diagnostic.code);
      }
    }
    return found;
  }
}

inline bool says(const leastwise::Scenario& scenario, leastwise::NoteLevel level,
                 std::string_view words) {
  return std::any_of(scenario.notes().begin(), scenario.notes().end(), [&](const auto& note) {
    return note.level == level && note.text.find(words) != std::string::npos;
  });
}

}  // namespace drafts
