#pragma once
#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "chemistry/nutrients/composition.hpp"

namespace leastwise {

/// Room for decimal numbers before a part of a formula, in moles and oxidation numbers.
inline constexpr double near_zero = 0.05;

/// Oxidation numbers of nitrogen in ammonium and in nitrate.
inline constexpr double reduced_nitrogen = -3;
inline constexpr double oxidized_nitrogen = 5;

[[nodiscard]] bool is_halogen(std::string_view symbol);
[[nodiscard]] bool is_alkali_metal(std::string_view symbol);
[[nodiscard]] bool is_earth_metal(std::string_view symbol);  ///< magnesium too
[[nodiscard]] bool is_metal(std::string_view symbol);        ///< all but H C N O F P S Cl Se Br I
/// The highest oxidation number in which an element occurs in fertilizers.
[[nodiscard]] double highest_state(std::string_view symbol);

/// One compound between two dots of a formula, and the balance of its oxidation numbers: what
/// oxygen and halogens take against what the others can give. Carbon, and nitrogen whose form no
/// group shows, stand on neither side; who asks adds what he assumes of them.
class Compound {
 public:
  explicit Compound(Composition composition);

  [[nodiscard]] double moles(std::string_view symbol) const;
  [[nodiscard]] bool has(std::string_view symbol) const { return moles(symbol) > 0; }
  [[nodiscard]] const Composition& composition() const { return composition_; }
  /// Nitrogen whose form no group of the formula shows.
  [[nodiscard]] double open_nitrogen() const;
  [[nodiscard]] double taken() const { return taken_; }
  [[nodiscard]] double given_least() const { return given_least_; }
  [[nodiscard]] double given_most() const { return given_most_; }

  /// Moles of the elements of which `counts` is true.
  template <class Predicate>
  [[nodiscard]] double sum_of(Predicate counts) const {
    double sum = 0;
    for (const auto& [symbol, count] : composition_.atoms) sum += counts(symbol) ? count : 0;
    return sum;
  }
  [[nodiscard]] double alkali() const { return sum_of(is_alkali_metal); }
  [[nodiscard]] double earth() const { return sum_of(is_earth_metal); }
  [[nodiscard]] double halogen() const { return sum_of(is_halogen); }
  [[nodiscard]] double metal() const { return sum_of(is_metal); }
  /// True when it holds no element but those.
  template <std::size_t Size>
  [[nodiscard]] bool only(const std::array<std::string_view, Size>& symbols) const {
    return sum_of([&](std::string_view s) {
             return std::find(symbols.begin(), symbols.end(), s) == symbols.end();
           }) == 0;
  }
  /// Oxygen left after all of it has burnt, percent of the mass; below 0 where oxygen is short.
  /// Nitrogen goes off as such. For compounds of C, H, N and O.
  [[nodiscard]] double oxygen_balance_percent() const;

 private:
  Composition composition_;
  double taken_ = 0;  ///< electrons that oxygen and halogens take
  double given_least_ = 0;
  double given_most_ = 0;
};

/// Crystal water: two hydrogens for each oxygen, and nothing else.
[[nodiscard]] bool is_water(const Composition& composition);

}  // namespace leastwise
