#include "chemistry/nutrients/synonyms.hpp"

#include <map>
#include <string>
#include <utility>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

std::string without_case_and_gaps(std::string_view word) {
  std::string text;
  for (const char c : word) {
    if (c == ' ' || c == '-' || c == '_') continue;
    text += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return text;
}

using SynonymTable = std::map<std::pair<SynonymOf, std::string>, std::string>;

SynonymTable read_synonyms() {
  const Table table("synonyms.csv", embedded::synonyms_csv());
  SynonymTable meanings;
  for (std::size_t i = 0; i < table.size(); ++i) {
    const std::string& kind = table.text(i, "kind");
    if (kind != "nutrient" && kind != "material") table.reject(i, "kind", "is unknown");
    meanings.emplace(std::pair(kind == "nutrient" ? SynonymOf::nutrient : SynonymOf::material,
                               without_case_and_gaps(table.text(i, "word"))),
                     table.text(i, "meaning"));
  }
  return meanings;
}

}  // namespace

std::optional<std::string_view> meaning_of(SynonymOf kind, std::string_view word) {
  static const SynonymTable meanings = read_synonyms();
  const auto found = meanings.find({kind, without_case_and_gaps(word)});
  if (found == meanings.end() || found->second == word) return std::nullopt;
  return found->second;
}

}  // namespace leastwise
