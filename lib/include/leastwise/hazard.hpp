#pragma once
#include <leastwise/export.h>
#include <leastwise/compatibility.hpp>
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

/// `oxidizer`, `hydrated-salt`: the spelling of reports and of lib/data/hazards.csv.
[[nodiscard]] LEASTWISE_API std::string_view to_string(HazardClass kind);

/// What a hazard was told from, the strongest first.
enum class Evidence {
  formula,    ///< its groups and oxidation numbers
  contents,   ///< what it is stated to contain
  catalogue,  ///< the built-in catalogue or the table of binders
  name,       ///< words and formulas in its name
  family,     ///< the family that is stated
};

/// One hazard of a material, and why.
struct Hazard {
  HazardClass kind = HazardClass::refused;  ///< what it can do
  Evidence evidence = Evidence::formula;    ///< what that was told from
  std::string reason{};                     ///< goes behind "because": `its formula holds nitrate`
  std::string source{};                     ///< publication, or `from memory`
  std::string detail{};                     ///< the symbol of a toxic element; else empty
  bool doubt = false;                       ///< it can be so, and nothing says that it is not
};

/// The hazards of a material, one for each class and toxic element, in the order of the classes.
///
/// Told from its formula, contents, name, the catalogue and its family. Doubt counts as danger; a
/// stated family adds a hazard and never takes one away.
[[nodiscard]] LEASTWISE_API std::vector<Hazard> hazards_of(const Material& material);

/// The nature of a binder: from the table, whatever the case, blanks and hyphens of the name, or
/// `organic` where the name holds a word of oil, wax or other organic matter, in many languages;
/// `unknown` otherwise.
[[nodiscard]] LEASTWISE_API BinderNature nature_of_binder(std::string_view binder);

}  // namespace leastwise
