#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {
namespace {

/// What a scenario holds, in the order in which it is told.
struct Counts {
  std::size_t materials = 0;
  std::size_t entering = 0;
  std::size_t rates = 0;
  std::size_t grades = 0;
  std::size_t ratios = 0;
  std::size_t pairs = 0;
};

Counts counts_of(const Scenario& scenario) {
  const auto entering = std::ranges::count_if(scenario.materials(), &Material::can_enter);
  return {scenario.materials().size(), static_cast<std::size_t>(entering),
          scenario.rates().size(),     scenario.grades().size(),
          scenario.ratios().size(),    scenario.exclusions().size()};
}

std::string_view basis_words(const Scenario& scenario) {
  return scenario.basis() == Basis::per_hectare ? "per hectare" : "per tonne";
}

/// `words` within the width of a page, from the second line on a little to the right.
std::string hanging(std::string_view words) {
  constexpr std::string_view indent = "  ";
  std::string text;
  for (const auto& line :
       wrapped(words, static_cast<std::size_t>(ReportOptions{}.width) - indent.size()))
    text += (text.empty() ? "" : std::string(indent)) + line + '\n';
  return text;
}

std::vector<std::pair<std::string, std::string>> lines_of(const Scenario& scenario) {
  const Counts counts = counts_of(scenario);
  return {{"basis", std::string(basis_words(scenario))},
          {"materials", std::to_string(counts.materials)},
          {"materials that can enter a blend", std::to_string(counts.entering)},
          {"rates", std::to_string(counts.rates)},
          {"grades", std::to_string(counts.grades)},
          {"ratios", std::to_string(counts.ratios)},
          {"pairs kept apart", std::to_string(counts.pairs)}};
}

}  // namespace

std::string text_of(const Scenario& scenario, std::string_view name) {
  const Counts counts = counts_of(scenario);
  std::string text = hanging(
      fmt::format("{}: nothing is wrong; {}; {} ({} can enter a blend), {}, {}, {}, {} kept apart",
                  name, basis_words(scenario), counted(counts.materials, "material"),
                  counts.entering, counted(counts.rates, "rate"), counted(counts.grades, "grade"),
                  counted(counts.ratios, "ratio"), counted(counts.pairs, "pair")));
  for (const Note& note : scenario.notes())
    text += hanging(fmt::format("{}: {}", to_string(note.level), printable(note.text)));
  return text;
}

std::string json_of(const Scenario& scenario, std::string_view name) {
  const Counts counts = counts_of(scenario);
  Json json{{"leastwise", 1},
            {"report", "check"},
            {"status", "valid"},
            {"file", name},
            {"title", scenario.title()},
            {"basis", unit_of_basis(scenario.basis())},
            {"materials", counts.materials},
            {"materials_that_can_enter", counts.entering},
            {"rates", counts.rates},
            {"grades", counts.grades},
            {"ratios", counts.ratios},
            {"pairs_kept_apart", counts.pairs}};
  json["notes"] = Json::array();
  for (const Note& note : scenario.notes()) json["notes"].push_back(json_note(note));
  return json_text(json);
}

std::string csv_of(const Scenario& scenario, std::string_view name) {
  std::string csv = csv_line({"what", "value"}) + csv_line({"file", std::string(name)});
  for (const auto& [what, value] : lines_of(scenario)) csv += csv_line({what, value});
  for (const Note& note : scenario.notes())
    csv += csv_line({std::string(to_string(note.level)), note.text});
  return csv;
}

Page page_of(const Scenario& scenario, std::string_view name) {
  Page page(Medium::html);
  page.title(scenario.title().empty() ? std::string(name) : scenario.title());
  page.paragraph(fmt::format("Nothing is wrong with {}. Nothing was solved.", name));
  Table table;
  table.add_words("what");
  table.add_words("value");
  for (const auto& [what, value] : lines_of(scenario)) table.add_row({what, value});
  page.table(table);
  write_notes(page, scenario.notes());
  return without_goods(std::move(page));
}

}  // namespace leastwise::report
