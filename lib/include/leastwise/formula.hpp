#pragma once
#include <leastwise/export.h>

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// How much of one nutrient, form or property a material holds.
struct Content {
  std::string name{};  ///< nutrient, form or property
  double percent = 0;  ///< percent by mass, as stated on a label

  /// Equal in every field.
  friend bool operator==(const Content&, const Content&) = default;
};

/// A chemical formula that could not be read. `offset` is the 0-based byte where reading stopped.
class LEASTWISE_API FormulaError : public std::invalid_argument {
 public:
  /// With what is wrong in plain words, and where.
  FormulaError(const std::string& what, std::size_t offset)
      : std::invalid_argument(what), offset_(offset) {}
  /// The 0-based byte where reading stopped.
  [[nodiscard]] std::size_t offset() const noexcept { return offset_; }

 private:
  std::size_t offset_;
};

/// Molar mass of `formula` in grams per mole: `ZnSO4.H2O`, `CO(NH2)2`, `5Ca(NO3)2.NH4NO3.10H2O`.
///
/// Hydrate parts are joined by `.`, `*` or the middle dot; each may carry a leading number, which
/// may be decimal (`CaSO4.0.5H2O`). Counts behind elements and brackets are whole.
/// Throws: FormulaError.
[[nodiscard]] LEASTWISE_API double molar_mass(std::string_view formula);

/// The nutrients that `formula` holds, as elements, times `purity_percent` / 100.
///
/// Nitrogen bound as NH4, NO3 or CO(NH2)2 is also listed as N-ammonium, N-nitrate, N-urea.
/// H, C and O are left out, as are elements that are no nutrients. Order: label order of
/// `known_names()`.
/// Throws: FormulaError; std::invalid_argument for a purity outside 0 to 100.
[[nodiscard]] LEASTWISE_API std::vector<Content> contents_of_formula(std::string_view formula,
                                                                     double purity_percent = 100);

}  // namespace leastwise
