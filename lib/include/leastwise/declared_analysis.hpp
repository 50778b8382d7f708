#pragma once
#include <leastwise/note.hpp>

#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// One line of a declared analysis.
struct DeclaredContent {
  std::string nutrient{};       ///< `N`, `N-urea`, `P2O5-citrate`, `SO3`
  std::string words{};          ///< `Total nitrogen (N)`, `of it as urea`
  double found_percent = 0;     ///< of the product, by the recipe
  double declared_percent = 0;  ///< the same, rounded down
  /// The least that the rules let a label declare; empty where they name none.
  std::optional<double> minimum_percent{};
  std::string minimum_source{};  ///< of that; says so where it was recalled
  bool below_minimum = false;    ///< too little to be declared under the rules
  /// How far an analysis may lie below the declared content; empty where the rules have no row.
  std::optional<double> tolerance_below{};
  std::optional<double> tolerance_above{};  ///< over it; empty: no such limit
  std::string tolerance_source{};           ///< of both
  /// True where a material holds the nutrient and does not say how much of it in this form: there
  /// is at least so much.
  bool at_least = false;
};

/// What a label of the product could say of its contents: a planning aid, no licence to print one.
struct DeclaredAnalysis {
  std::string rules{};                      ///< `aafco`, `eu-2019-1009` or empty
  std::vector<DeclaredContent> contents{};  ///< in the order of labels, forms below their nutrient
  std::vector<std::string> derived_from{};  ///< what the contents come from, the largest first
  std::vector<Note> notes{};                ///< rules about the whole that it does not meet
};

}  // namespace leastwise
