#pragma once
#include <optional>
#include <string_view>

namespace leastwise {

/// What a word of the trade stands for among the names of this library.
enum class SynonymOf { nutrient, material };

/// `K2O` for the nutrient `potash`, `mop` for the material. Case, blanks, hyphens and underscores
/// make no difference. Returns: nothing when the word is none of the table (lib/data/synonyms.csv).
[[nodiscard]] std::optional<std::string_view> meaning_of(SynonymOf kind, std::string_view word);

}  // namespace leastwise
