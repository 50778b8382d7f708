#include "chemistry/hazard/hazard_table.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

using KindSpelling = std::pair<HazardClass, std::string_view>;

constexpr std::array<KindSpelling, 11> kind_spellings{{
    {HazardClass::refused, "refused"},
    {HazardClass::oxidizer, "oxidizer"},
    {HazardClass::fuel, "fuel"},
    {HazardClass::reducer, "reducer"},
    {HazardClass::ammonium, "ammonium"},
    {HazardClass::urea, "urea"},
    {HazardClass::alkaline, "alkaline"},
    {HazardClass::acid, "acid"},
    {HazardClass::copper, "copper"},
    {HazardClass::hydrated_salt, "hydrated-salt"},
    {HazardClass::toxic_element, "toxic-element"},
}};

using RowsByText = std::multimap<std::string, HazardRow, std::less<>>;

/// The table by the way its texts are looked for.
struct HazardTable {
  RowsByText families{};
  RowsByText words{};
  RowsByText short_words{};
  RowsByText binder_words{};
  RowsByText harmless_words{};
  std::vector<HazardRow> stems{};  ///< sorted by text
  std::vector<HazardRow> harmless_stems{};
  std::vector<HazardRow> endings{};
  std::vector<HazardRow> binder_endings{};
  std::vector<HazardRow> properties{};
  std::vector<FormulaRow> formulas{};
};

HazardRow read_hazard(const Table& table, std::size_t row) {
  HazardRow hazard;
  hazard.text = table.text(row, "text");
  hazard.family = table.text(row, "family");
  hazard.reason = table.text(row, "reason");
  hazard.source = table.source(row);
  const std::string& word = table.text(row, "hazard");
  if (word.empty()) return hazard;
  const auto* const kind = std::ranges::find(kind_spellings, word, &KindSpelling::second);
  if (kind == kind_spellings.end()) table.reject(row, "hazard", "is not a class of hazard");
  hazard.has_hazard = true;
  hazard.kind = kind->first;
  return hazard;
}

HazardTable read_hazard_table() {
  const Table table("hazards.csv", embedded::hazards_csv());
  HazardTable hazards;
  const std::array<std::pair<std::string_view, RowsByText*>, 5> maps{{
      {"family", &hazards.families},
      {"word", &hazards.words},
      {"short", &hazards.short_words},
      {"binder", &hazards.binder_words},
      {"harmless", &hazards.harmless_words},
  }};
  const std::array<std::pair<std::string_view, std::vector<HazardRow>*>, 5> lists{{
      {"stem", &hazards.stems},
      {"harmless-stem", &hazards.harmless_stems},
      {"ending", &hazards.endings},
      {"binder-ending", &hazards.binder_endings},
      {"property", &hazards.properties},
  }};
  for (std::size_t row = 0; row < table.size(); ++row) {
    HazardRow hazard = read_hazard(table, row);
    const std::string& match = table.text(row, "match");
    if (match == "formula") {
      hazards.formulas.push_back({composition_of(hazard.text), hazard.family});
      continue;
    }
    bool found = false;
    for (const auto& [name, map] : maps) {
      if (match != name) continue;
      map->emplace(hazard.text, hazard);
      found = true;
    }
    for (const auto& [name, list] : lists) {
      if (match != name) continue;
      list->push_back(hazard);
      found = true;
    }
    if (!found) table.reject(row, "match", "is no way to look for a text");
  }
  std::ranges::stable_sort(hazards.stems, {}, &HazardRow::text);
  return hazards;
}

const HazardTable& hazard_table() {
  static const HazardTable table = read_hazard_table();
  return table;
}

void add_equal(const RowsByText& rows, std::string_view text,
               std::vector<const HazardRow*>& found) {
  const auto [first, last] = rows.equal_range(text);
  for (auto row = first; row != last; ++row) found.push_back(&row->second);
}

/// Rows of `stems` that `letters` begins with. A stem has three bytes or more.
void add_beginnings(const std::vector<HazardRow>& stems, std::string_view letters,
                    std::vector<const HazardRow*>& found) {
  constexpr std::size_t least = 3;
  if (letters.size() < least) return;
  const std::string_view key = letters.substr(0, least);
  auto row = std::ranges::lower_bound(
      stems, key, {}, [](const HazardRow& stem) { return std::string_view(stem.text); });
  for (; row != stems.end() && row->text.compare(0, least, key) == 0; ++row) {
    if (letters.starts_with(row->text)) found.push_back(&*row);
  }
}

/// The stems that begin in one word. One that begins at its start may run on into the next words,
/// as in `zinc dust`; one that begins inside must end in it, or copper oxide would hold a peroxide.
void add_stems(const HazardTable& table, std::string_view letters, std::size_t start,
               std::size_t length, std::vector<const HazardRow*>& found) {
  const std::string_view word = letters.substr(start, length);
  std::string kept(word);
  for (const auto& harmless : table.harmless_stems) {
    const std::size_t at = kept.find(harmless.text);
    if (at != std::string::npos) kept.replace(at, harmless.text.size(), 1, ' ');
  }
  if (kept == word) add_beginnings(table.stems, letters.substr(start), found);
  for (std::size_t i = kept == word ? 1 : 0; i < kept.size(); ++i) {
    add_beginnings(table.stems, std::string_view(kept).substr(i), found);
  }
}

void add_endings(const std::vector<HazardRow>& endings, std::string_view word,
                 std::vector<const HazardRow*>& found) {
  for (const auto& ending : endings) {
    if (word.size() > ending.text.size() && word.ends_with(ending.text)) found.push_back(&ending);
  }
}

}  // namespace

std::vector<const HazardRow*> rows_of_family(std::string_view family) {
  std::vector<const HazardRow*> found;
  add_equal(hazard_table().families, family, found);
  return found;
}

std::vector<const HazardRow*> rows_of_name(const FoldedName& name, bool beside_nitrogen,
                                           bool as_binder) {
  const HazardTable& table = hazard_table();
  std::vector<const HazardRow*> found;
  for (const auto& word : name.words) {
    if (table.harmless_words.find(word) != table.harmless_words.end()) continue;
    add_equal(table.words, word, found);
    if (beside_nitrogen) add_equal(table.short_words, word, found);
    add_endings(table.endings, word, found);
    if (!as_binder) continue;
    add_equal(table.binder_words, word, found);
    add_endings(table.binder_endings, word, found);
  }
  std::size_t start = 0;
  for (const auto& word : name.words) {
    add_stems(table, name.letters, start, word.size(), found);
    start += word.size();
  }
  return found;
}

const HazardRow* row_of_property(std::string_view name) {
  const std::string key = folded_name(name).letters;
  const auto& properties = hazard_table().properties;
  const auto found = std::ranges::find_if(properties, [&](const HazardRow& row) {
    // Carbon is in carbonate, and fat in sulfate: words so short stand alone.
    constexpr std::size_t telling = 7;
    return row.text.size() < telling ? key == row.text : key.find(row.text) != std::string::npos;
  });
  return found == properties.end() ? nullptr : &*found;
}

const std::vector<FormulaRow>& formula_rows() { return hazard_table().formulas; }

}  // namespace leastwise
