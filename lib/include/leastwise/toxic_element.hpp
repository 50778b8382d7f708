#pragma once
#include <leastwise/export.h>

#include <span>
#include <string>
#include <string_view>

namespace leastwise {

/// An element that harms crops, animals or people above a narrow rate, or as dust.
struct ToxicElement {
  std::string symbol{};     ///< `B`
  std::string name{};       ///< `boron`
  double from_percent = 0;  ///< a material with so much of it carries the hazard, by mass
  bool is_refused = false;  ///< laws allow traces only: no material may be a compound of it
  std::string caution{};    ///< about crops, animals and soil, for who plans the rate
  std::string at_work{};    ///< for who weighs, mixes and spreads; one or more sentences
  std::string source{};     ///< publication, or `from memory`
};

/// Boron, copper, molybdenum, selenium, cobalt and nickel, then the metals that fertilizers may
/// hold in traces only; see lib/data/toxic_elements.csv.
[[nodiscard]] LEASTWISE_API std::span<const ToxicElement> toxic_elements();

/// The row of that symbol, or null.
[[nodiscard]] LEASTWISE_API const ToxicElement* find_toxic_element(std::string_view symbol);

}  // namespace leastwise
