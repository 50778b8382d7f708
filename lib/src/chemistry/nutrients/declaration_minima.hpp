#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// Which kind of product a minimum is for.
enum class LabelKind {
  straight,  ///< one macronutrient
  compound,  ///< several
};

/// The least of a nutrient that a label may declare.
struct DeclarationMinimum {
  double percent = 0;    ///< of the product, in the nutrient asked for
  std::string source{};  ///< says so where it was recalled, not read
};

/// The minimum under `rules` (`aafco`, `eu-2019-1009`) for `nutrient`, converted where the rules
/// state it of the oxide or the element. `sum` asks for that of all macronutrients together.
/// Returns: nothing when the rules have none.
[[nodiscard]] std::optional<DeclarationMinimum> declaration_minimum(std::string_view rules,
                                                                    LabelKind kind,
                                                                    std::string_view nutrient);

}  // namespace leastwise
