#include "report/declared_table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string>
#include <vector>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

bool is_form(const DeclaredContent& line) { return line.words.starts_with("of it"); }

std::string tolerance_text(const DeclaredContent& line) {
  if (!line.tolerance_below) return {};
  std::string text = "-" + plain_text(*line.tolerance_below, 3);
  if (line.tolerance_above) text += " +" + plain_text(*line.tolerance_above, 3);
  return text;
}

std::string declared_text(const DeclaredContent& line) {
  if (line.below_minimum) return "not";
  return plain_text(line.declared_percent);
}

Table declared_table(const DeclaredAnalysis& declared) {
  Table table;
  table.add_words("");
  table.add_numbers("% by the recipe");
  table.add_numbers("declare, %");
  table.add_words("least, %");
  table.add_words("tolerance");
  for (const DeclaredContent& line : declared.contents)
    table.add_row({(is_form(line) ? "- " : "") + line.words, amount_text(line.found_percent),
                   declared_text(line),
                   line.minimum_percent ? plain_text(*line.minimum_percent, 3) : "",
                   tolerance_text(line)});
  return table;
}

/// The publications behind the minima and tolerances, each once.
std::vector<std::string> sources_of(const DeclaredAnalysis& declared) {
  std::vector<std::string> sources;
  const auto add = [&](const std::string& source) {
    if (!source.empty() && std::ranges::find(sources, source) == sources.end())
      sources.push_back(source);
  };
  for (const DeclaredContent& line : declared.contents) {
    if (line.minimum_percent) add(line.minimum_source);
    if (line.tolerance_below) add(line.tolerance_source);
  }
  return sources;
}

}  // namespace

void write_declared(Page& page, const DeclaredAnalysis& declared) {
  if (declared.contents.empty()) return;
  page.heading("Declared analysis");
  page.table(declared_table(declared));
  if (!declared.derived_from.empty())
    page.item("  ", fmt::format("Derived from {}.", fmt::join(declared.derived_from, ", ")));
  std::string words = "Contents are rounded down.";
  if (std::ranges::any_of(declared.contents, &DeclaredContent::at_least))
    words += " Some materials do not state all their forms: there may be more of them than that.";
  const auto sources = sources_of(declared);
  if (!sources.empty())
    words +=
        fmt::format(" Minima and tolerances by {}: {}.", declared.rules, fmt::join(sources, "; "));
  page.item("  ", words + " A planning aid, no licence to print a label.");
  for (const Note& note : declared.notes)
    page.warning_item("  - ",
                      fmt::format("{}: {}", to_string(note.level), with_full_stop(note.text)));
}

}  // namespace leastwise::report
