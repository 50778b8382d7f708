#pragma once
#include <leastwise/material.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What a material can do to people or to what lies beside it, told from what it is.
enum class HazardClass {
  refused,        ///< no fertilizer: chlorates, peroxides, nitrites, cyanides ...
  oxidizer,       ///< feeds a fire
  fuel,           ///< burns, and with an oxidizer explodes
  reducer,        ///< takes up oxygen: sulfides, sulfites, thiosulfates, metals
  ammonium,       ///< gives off ammonia when an alkaline material touches it
  urea,           ///< turns nitrates into a liquid
  alkaline,       ///< free lime and other strong bases
  acid,           ///< strong acids and their acid salts
  copper,         ///< speeds up the decomposition of ammonium nitrate
  hydrated_salt,  ///< gives up crystal water
  toxic_element,  ///< harms people, animals or crops above a narrow rate
};

/// `an oxidizer`, `a fuel`: the class in the words of messages.
[[nodiscard]] std::string_view in_words(HazardClass kind);

/// What a hazard was told from.
enum class Evidence { formula, contents, catalogue, name, family };

/// One hazard of a material, and why.
struct Hazard {
  HazardClass kind = HazardClass::refused;
  Evidence evidence = Evidence::formula;
  std::string reason{};  ///< goes behind "because": `its formula holds nitrate`
  std::string source{};  ///< publication, or `from memory`
  std::string detail{};  ///< the element of a toxic element; else empty
  bool doubt = false;    ///< it can be so, and nothing says that it is not
};

/// What is known of a material from its formula, contents, name and families.
struct Nature {
  std::vector<Hazard> hazards{};  ///< by class, the strongest evidence first
  /// The families of the compatibility table whose rules apply: the stated one, and those that the
  /// formula, the contents, the catalogue or the name tell of.
  std::vector<std::string> families{};
  /// Whether it is said what it is: by a family of the table or by a formula, or it shows a hazard
  /// that decides. Only then may it lie beside an oxidizer.
  bool known = false;

  [[nodiscard]] bool has(HazardClass kind) const { return find(kind) != nullptr; }
  /// The strongest evidence for the class, or null.
  [[nodiscard]] const Hazard* find(HazardClass kind) const;
};

/// Tells the nature of a material. Doubt counts as danger; a stated family adds, and never takes
/// a hazard away.
[[nodiscard]] Nature nature_of(const Material& material);

/// The hazards alone, one for each class and toxic element, in the order of the classes.
[[nodiscard]] std::vector<Hazard> hazards_of(const Material& material);

/// Whether a family of the table is listed with that hazard.
[[nodiscard]] bool family_has(std::string_view family, HazardClass kind);

/// The family that a formula or a name of the catalogue makes clear; empty when neither does.
[[nodiscard]] std::string clear_family(const Material& material);

}  // namespace leastwise
