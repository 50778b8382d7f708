#pragma once
#include <limits>

namespace leastwise {

/// A closed interval within which a quantity must stay.
///
/// Units: those of the quantity it limits. An absent side is infinite. `exactly` is min == max.
struct Limits {
  double min = -std::numeric_limits<double>::infinity();  ///< not below this
  double max = std::numeric_limits<double>::infinity();   ///< not above this

  /// True when there is a lower side.
  [[nodiscard]] constexpr bool has_min() const {
    return min > -std::numeric_limits<double>::infinity();
  }
  /// True when there is an upper side.
  [[nodiscard]] constexpr bool has_max() const {
    return max < std::numeric_limits<double>::infinity();
  }
  /// True when both sides are the same number: the rule is then named `... exactly`.
  [[nodiscard]] constexpr bool exact() const { return has_min() && min == max; }

  /// Equal in every field.
  friend constexpr bool operator==(const Limits&, const Limits&) = default;
};

}  // namespace leastwise
