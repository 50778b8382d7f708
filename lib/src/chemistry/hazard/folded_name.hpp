#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// A name as it is compared: lower case, without accents, blanks, hyphens, digits and signs.
struct FoldedName {
  std::string letters{};                ///< all letters in one run: `nitratodeamonio`
  std::vector<std::string> words{};     ///< runs of letters: `nitrato`, `de`, `amonio`
  std::vector<std::string> initials{};  ///< letters that stand alone, joined: `an` of `A.N.`
  bool is_foreign = false;  ///< holds letters of a script other than Latin, Greek and Cyrillic
};

/// Folds a name. Letters of the Latin, Greek and Cyrillic scripts lose case, Latin ones their
/// and Greek ones their accents; letters of other scripts stay. Cyrillic and Greek letters that
/// look like Latin ones are taken for those inside a word that has Latin letters too.
[[nodiscard]] FoldedName folded_name(std::string_view name);

/// A key under which two spellings of one name are equal, digits kept: `Map-Crystal`, `map
/// crystal`.
[[nodiscard]] std::string folded_key(std::string_view name);

}  // namespace leastwise
