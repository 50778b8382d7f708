#include "chemistry/hazard/hazard_table.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

using RowsByText = std::multimap<std::string, HazardRow, std::less<>>;

/// The table by the way its texts are looked for.
struct HazardTable {
  RowsByText families{};
  RowsByText words{};
  RowsByText short_words{};
  RowsByText binder_words{};
  RowsByText harmless_words{};
  RowsByText mineral_words{};
  std::vector<HazardRow> harmless_phrases{};
  std::vector<HazardRow> harmless_properties{};
  std::vector<HazardRow> stems{};  ///< sorted by text
  std::vector<HazardRow> harmless_stems{};
  std::vector<HazardRow> endings{};
  std::vector<HazardRow> binder_endings{};
  std::vector<HazardRow> binder_stems{};
  std::vector<HazardRow> properties{};
  std::vector<FormulaRow> formulas{};
};

HazardRow read_hazard(const Table& table, std::size_t row) {
  HazardRow hazard;
  hazard.text = table.text(row, "text");
  hazard.family = table.text(row, "family");
  hazard.reason = table.text(row, "reason");
  hazard.source = table.source(row);
  const std::string& words = table.text(row, "hazard");
  if (words.empty()) return hazard;
  const std::size_t colon = words.find(':');
  const auto kind = hazard_class(std::string_view(words).substr(0, colon));
  if (!kind) table.reject(row, "hazard", "is not a class of hazard");
  hazard.has_hazard = true;
  hazard.kind = *kind;
  if (colon != std::string::npos) hazard.detail = words.substr(colon + 1);
  return hazard;
}

HazardTable read_hazard_table() {
  const Table table("hazards.csv", embedded::hazards_csv());
  HazardTable hazards;
  const std::array<std::pair<std::string_view, RowsByText*>, 6> maps{{
      {"family", &hazards.families},
      {"word", &hazards.words},
      {"short", &hazards.short_words},
      {"binder", &hazards.binder_words},
      {"harmless", &hazards.harmless_words},
      {"mineral", &hazards.mineral_words},
  }};
  const std::array<std::pair<std::string_view, std::vector<HazardRow>*>, 8> lists{{
      {"stem", &hazards.stems},
      {"harmless-stem", &hazards.harmless_stems},
      {"ending", &hazards.endings},
      {"binder-ending", &hazards.binder_endings},
      {"binder-stem", &hazards.binder_stems},
      {"harmless-phrase", &hazards.harmless_phrases},
      {"harmless-property", &hazards.harmless_properties},
      {"property", &hazards.properties},
  }};
  for (std::size_t row = 0; row < table.size(); ++row) {
    HazardRow hazard = read_hazard(table, row);
    const std::string& match = table.text(row, "match");
    if (match == "formula") {
      hazards.formulas.push_back({hazard.text, composition_of(hazard.text), hazard.family});
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

/// Which words stand in a phrase that means no harm, such as the lime of `ag lime`.
std::vector<bool> harmless_words_of(const HazardTable& table, const FoldedName& name) {
  std::vector<bool> harmless(name.words.size(), false);
  for (const auto& phrase : table.harmless_phrases) {
    const std::size_t at = name.letters.find(phrase.text);
    if (at == std::string::npos) continue;
    std::size_t start = 0;
    for (std::size_t i = 0; i < name.words.size(); ++i) {
      const std::size_t end = start + name.words[i].size();
      if (start >= at && end <= at + phrase.text.size()) harmless[i] = true;
      start = end;
    }
  }
  return harmless;
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
  const auto add_word = [&](const std::string& word) {
    add_equal(table.words, word, found);
    if (beside_nitrogen) add_equal(table.short_words, word, found);
    add_endings(table.endings, word, found);
    if (!as_binder) return;
    add_equal(table.binder_words, word, found);
    add_endings(table.binder_endings, word, found);
  };
  const std::vector<bool> harmless = harmless_words_of(table, name);
  for (std::size_t i = 0; i < name.words.size(); ++i) {
    if (!harmless[i] && !table.harmless_words.contains(name.words[i])) add_word(name.words[i]);
  }
  for (const auto& initials : name.initials) add_word(initials);
  std::size_t start = 0;
  for (std::size_t i = 0; i < name.words.size(); ++i) {
    if (!harmless[i]) add_stems(table, name.letters, start, name.words[i].size(), found);
    start += name.words[i].size();
  }
  if (as_binder) {
    for (const auto& stem : table.binder_stems) {
      if (name.letters.find(stem.text) != std::string::npos) found.push_back(&stem);
    }
  }
  return found;
}

bool is_called_mineral(const FoldedName& name) {
  return std::ranges::any_of(name.words, [](const std::string& word) {
    return hazard_table().mineral_words.contains(word);
  });
}

std::vector<const HazardRow*> rows_of_property(std::string_view name) {
  const HazardTable& table = hazard_table();
  const FoldedName folded = folded_name(name);
  const std::string& key = folded.letters;
  std::vector<const HazardRow*> rows;
  for (const auto& row : table.properties) {
    // Carbon is in carbonate, and fat in sulfate: words so short stand alone.
    constexpr std::size_t telling = 7;
    const bool fits =
        row.text.size() < telling ? key == row.text : key.find(row.text) != std::string::npos;
    if (fits) return {&row};
  }
  if (std::ranges::any_of(table.harmless_properties, [&](const HazardRow& row) {
        return key.find(row.text) != std::string::npos;
      })) {
    return rows;
  }
  constexpr bool beside_nitrogen = false;
  constexpr bool as_binder = false;
  for (const auto* row : rows_of_name(folded, beside_nitrogen, as_binder)) {
    if (row->has_hazard) rows.push_back(row);
  }
  return rows;
}

const std::vector<FormulaRow>& formula_rows() { return hazard_table().formulas; }

}  // namespace leastwise
