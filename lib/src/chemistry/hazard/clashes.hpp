#pragma once
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "chemistry/hazard/hazards.hpp"

namespace leastwise {

/// Two hazards that must not meet.
struct Clash {
  HazardClass first = HazardClass::oxidizer;
  HazardClass second = HazardClass::fuel;
  HazardClass also_first = HazardClass::oxidizer;  ///< a second class that the first must show
  bool burns = false;         ///< fire or explosion: no statement lifts it, anywhere
  std::string_view danger{};  ///< what happens: `mixed they can burn or explode`
  std::string_view source{};
};

/// Every clash there is, the worst first.
[[nodiscard]] std::span<const Clash> clashes();

/// The worst clash of two materials, `first` being that of `a`'s hazards; nothing when none meets.
[[nodiscard]] std::optional<Clash> clash_of(const Nature& a, const Nature& b);

/// Whether the stated families alone show both hazards of a clash: then the table decides.
[[nodiscard]] bool is_of_families(const Clash& clash, std::string_view family_a,
                                  std::string_view family_b);

/// `'u' is urea because its formula CO(NH2)2 holds urea`.
[[nodiscard]] std::string because(std::string_view quoted_name, const Nature& nature,
                                  HazardClass kind);

}  // namespace leastwise
