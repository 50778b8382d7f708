#include "chemistry/hazard/name_hazards.hpp"

#include <leastwise/compatibility.hpp>
#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "chemistry/hazard/folded_name.hpp"
#include "chemistry/hazard/formula_hazards.hpp"
#include "chemistry/hazard/hazard_table.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

std::string small_letters(std::string_view text) {
  std::string small(text);
  for (char& c : small) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return small;
}

bool has_digit(std::string_view text) { return text.find_first_of("0123456789") != text.npos; }

std::optional<Composition> composition_in(std::string_view word) {
  try {
    return composition_of(word);
  } catch (const FormulaError&) {
    return std::nullopt;
  }
}

/// The formula that a word spells, or nothing: a formula of the table in any case of its letters,
/// or any other that holds oxygen, a count, and more than nitrogen beside it. `P2O5 46` and `S90`
/// are no formulas of a material but its analysis.
std::string formula_of(std::string_view word, bool is_whole_name) {
  if (kind_of(word) != NameKind::property && !is_whole_name) return {};
  if (!has_digit(word) && !is_whole_name) return {};
  const std::string small = small_letters(word);
  for (const auto& row : formula_rows()) {
    if (row.formula.size() != word.size() || small_letters(row.formula) != small) continue;
    if (has_digit(word) || row.composition.atoms.size() > 1) return row.formula;
  }
  if (!has_digit(word)) return {};
  const auto composition = composition_in(word);
  if (!composition || !composition->atoms.contains("O")) return {};
  const bool compound = std::ranges::any_of(
      composition->atoms, [](const auto& atom) { return atom.first != "O" && atom.first != "N"; });
  return compound && composition->atoms.size() > 1 && kind_of(word) == NameKind::property
             ? std::string(word)
             : std::string();
}

/// What stands between blanks, hyphens and other signs that no formula holds.
std::vector<std::string_view> words_of(std::string_view name) {
  std::vector<std::string_view> words;
  constexpr std::string_view gaps = " \t-_,;:/+%";
  for (std::size_t i = 0; i < name.size();) {
    const std::size_t start = name.find_first_not_of(gaps, i);
    if (start == std::string_view::npos) break;
    i = std::min(name.find_first_of(gaps, start), name.size());
    words.push_back(name.substr(start, i - start));
  }
  return words;
}

std::vector<std::string> formulas_in(std::string_view name) {
  if (auto formula = formula_of(name, true); !formula.empty()) return {std::move(formula)};
  std::vector<std::string> formulas;
  for (const auto word : words_of(name)) {
    if (auto formula = formula_of(word, false); !formula.empty()) {
      formulas.push_back(std::move(formula));
    }
  }
  return formulas;
}

void add_formulas_in(std::string_view name, std::string_view what, Nature& nature) {
  for (const auto& formula : formulas_in(name)) {
    Nature of_formula;
    add_formula_hazards(formula, of_formula);
    add_family(family_of_formula(formula), nature);
    for (auto& hazard : of_formula.hazards) {
      if (hazard.kind == HazardClass::toxic_element) continue;  // how much of it, contents say
      hazard.evidence = Evidence::name;
      hazard.reason = "its " + std::string(what) + " says " + formula + ", and " + hazard.reason;
      nature.hazards.push_back(std::move(hazard));
    }
  }
}

/// Whether a name gives more sulfur than sulfates can hold, as in `S90` and `S 90`.
bool says_sulfur(const std::vector<std::string_view>& words) {
  constexpr double most_sulfur_of_sulfates = 28;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (!words[i].starts_with('S') && !words[i].starts_with('s')) continue;
    std::string_view number = words[i].substr(1);
    if (words[i] == "S" && i + 1 < words.size()) number = words[i + 1];
    const auto percent = parse_number(number);
    if (percent && *percent > most_sulfur_of_sulfates && *percent <= 100) return true;
  }
  return false;
}

}  // namespace

void add_family(const std::string& family, Nature& nature) {
  if (find_family(family) == nullptr) return;
  auto& families = nature.families;
  if (std::find(families.begin(), families.end(), family) == families.end()) {
    families.push_back(family);
  }
}

void add_name_hazards(const Material& material, std::string_view name, std::string_view what,
                      Nature& nature) {
  constexpr double some_nitrogen = 5;
  const bool nitrogen = content_percent(material, "N") >= some_nitrogen;
  for (const auto* row : rows_of_name(folded_name(name), nitrogen, false)) {
    add_family(row->family, nature);
    if (!row->has_hazard) continue;
    nature.hazards.push_back(
        {row->kind,
         Evidence::name,
         "its " + std::string(what) + " says '" + row->text + "', and " + row->reason,
         row->source,
         {}});
  }
  add_formulas_in(name, what, nature);
  if (!says_sulfur(words_of(name))) return;
  add_family("elemental-sulfur", nature);
  nature.hazards.push_back({HazardClass::fuel,
                            Evidence::name,
                            "its " + std::string(what) +
                                " gives more S than sulfates hold: sulfur that is not bound burns",
                            "stoichiometry, computed",
                            {}});
}

}  // namespace leastwise
