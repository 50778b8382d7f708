#include "report/safety.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace leastwise::report {
namespace {

bool supplies(std::span<const Supply> supply, std::string_view nutrient) {
  return std::ranges::any_of(
      supply, [&](const Supply& s) { return s.nutrient == nutrient && s.percent > 0; });
}

bool warn_of(std::string_view element, std::span<const Note> notes) {
  return std::ranges::any_of(notes, [&](const Note& note) {
    return note.code == NoteCode::toxic_element &&
           std::ranges::find(note.subjects, element) != note.subjects.end();
  });
}

}  // namespace

std::vector<std::string> safety_lines(std::span<const Portion> portions,
                                      std::span<const Supply> supply, std::span<const Note> notes) {
  std::vector<std::string> lines;
  if (std::ranges::any_of(portions, [](const Portion& p) { return p.form == Form::powder; })) {
    lines.emplace_back(
        "Powders: wear a fitted particle respirator, eye and skin protection, and keep dust down.");
  }
  const bool boron = supplies(supply, "B") && !warn_of("B", notes);
  const bool copper = supplies(supply, "Cu") && !warn_of("Cu", notes);
  if (boron || copper) {
    lines.push_back(fmt::format(
        "{} toxic above narrow rates: keep to the rate and spread evenly, without overlaps.",
        boron && copper ? "Boron and copper are"
        : boron         ? "Boron is"
                        : "Copper is"));
  }
  if (!portions.empty()) {
    lines.emplace_back(
        "Compatibility tables are guides: a jar test with the real materials decides.");
  }
  lines.emplace_back(
      "The figures are planning aids: check local rules and ask a licensed adviser.");
  return lines;
}

}  // namespace leastwise::report
