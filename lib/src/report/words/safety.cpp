#include "report/words/safety.hpp"

#include <leastwise/toxic_element.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

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

/// `Boron, copper and selenium are toxic ...`.
std::string toxic_line(std::span<const std::string_view> elements) {
  std::string names;
  for (const auto& element : elements) {
    names += &element == &elements.front() ? "" : &element == &elements.back() ? " and " : ", ";
    names += element;
  }
  names.front() = static_cast<char>(names.front() - 'a' + 'A');
  return fmt::format(
      "{} {} toxic above narrow rates: keep to the rate and spread evenly, without overlaps.",
      names, elements.size() > 1 ? "are" : "is");
}

}  // namespace

std::vector<std::string> safety_lines(std::span<const Portion> portions,
                                      std::span<const Supply> supply, std::span<const Note> notes) {
  std::vector<std::string> lines;
  if (std::ranges::any_of(portions, [](const Portion& p) { return p.form == Form::powder; })) {
    lines.emplace_back(
        "Powders: wear a fitted particle respirator, eye and skin protection, and keep dust down.");
  }
  std::vector<std::string_view> toxic;
  for (const auto& element : toxic_elements()) {
    if (supplies(supply, element.symbol) && !warn_of(element.symbol, notes)) {
      toxic.push_back(element.name);
    }
  }
  if (!toxic.empty()) lines.push_back(toxic_line(toxic));
  if (!portions.empty()) {
    lines.emplace_back(
        "Compatibility tables are guides: a jar test with the real materials decides.");
  }
  lines.emplace_back(
      "The figures are planning aids: check local rules and ask a licensed adviser.");
  return lines;
}

}  // namespace leastwise::report
