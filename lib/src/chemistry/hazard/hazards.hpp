#pragma once
#include <leastwise/hazard.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// `an oxidizer`, `a fuel`: the class in the words of messages.
[[nodiscard]] std::string_view in_words(HazardClass kind);

/// The class of that spelling, as `to_string` gives it; nothing when there is none.
[[nodiscard]] std::optional<HazardClass> hazard_class(std::string_view spelling);

/// What is known of a material from its formula, contents, name and families.
struct Nature {
  std::vector<Hazard> hazards{};  ///< by class, the strongest evidence first
  /// The families of the compatibility table whose rules apply: the stated one, and those that the
  /// formula, the contents, the catalogue or the name tell of.
  std::vector<std::string> families{};
  /// Whether it is said what it is: by a family of the table or by a formula, or it shows a hazard
  /// that decides. Only then may it lie beside an oxidizer.
  bool known = false;
  /// Nothing but a stated family says what it is, and its contents do not bear the family out.
  bool only_stated = false;

  [[nodiscard]] bool has(HazardClass kind) const { return find(kind) != nullptr; }
  /// The strongest evidence for the class, or null.
  [[nodiscard]] const Hazard* find(HazardClass kind) const;
};

/// Tells the nature of a material. Doubt counts as danger; a stated family adds, and never takes
/// a hazard away.
[[nodiscard]] Nature nature_of(const Material& material);

/// Whether a family of the table is listed with that hazard.
[[nodiscard]] bool family_has(std::string_view family, HazardClass kind);

/// The family that a formula or a name of the catalogue makes clear; empty when neither does.
[[nodiscard]] std::string clear_family(const Material& material);

}  // namespace leastwise
