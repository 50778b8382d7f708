#pragma once
#include <leastwise/export.h>

#include <compare>
#include <string>
#include <string_view>

namespace leastwise {

/// What a rule is about.
enum class RuleKind {
  rate,             ///< kg per hectare of a nutrient or property
  grade,            ///< percent of it in the product
  ratio,            ///< one content by another
  total,            ///< kg of product per hectare
  coating,          ///< powders and binder, in percent of the granules
  share,            ///< percent of the product that is one material
  left_out,         ///< a material that a variant leaves out
  stock,            ///< kg of a material at hand
  minimum_if_used,  ///< none of a material, or at least so many percent
  exclusion,        ///< two families never in one blend
  bins,             ///< how many granular materials a blend may have
  unasked,          ///< a material that stays out: nothing asks for a micronutrient it carries
  ceiling,          ///< kg per hectare of a micronutrient that no blend passes unconfirmed
  minimum_lot,      ///< none of a material bought, or at least so many kg for what is made
};

/// The spelling of JSON reports: `rate`, `left-out`, `minimum-if-used`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(RuleKind kind);

/// Which side of a quantity a rule limits.
enum class RuleSide {
  none,     ///< kinds that have one side only, as `stock` and `bins` have
  min,      ///< at least
  max,      ///< at most
  exactly,  ///< both at once
};

/// `none`, `min`, `max`, `exactly`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(RuleSide side);

/// Which rule of a scenario is meant. A value to compare and to sort by; nothing needs to be read
/// out of a name.
///
/// Two rules of one scenario have equal ids only where it states the same ratio twice.
struct RuleId {
  RuleKind kind = RuleKind::rate;  ///< what it is about
  /// The nutrient, the material, the numerator of a ratio or one family; else empty.
  std::string subject{};
  std::string object{};            ///< the denominator or the other family; else empty
  RuleSide side = RuleSide::none;  ///< of the quantity

  /// Equal in every field.
  friend bool operator==(const RuleId&, const RuleId&) = default;
  /// By kind, then as words sort.
  friend std::strong_ordering operator<=>(const RuleId&, const RuleId&) = default;
};

/// The rule's name in reports, in variants and on the command line: `rate N min`,
/// `ratio N-ammonium:N min`, `total max`, `share urea max`, `without urea`, `stock urea`,
/// `min if used urea`, `apart urea / lime`, `bins`, `unasked borax`, `ceiling B`, `lot urea`.
[[nodiscard]] LEASTWISE_API std::string to_string(const RuleId& id);

/// What a limit is stated in.
enum class LimitUnit {
  none,         ///< a ratio of masses, or a rule without a limit
  kg_per_ha,    ///< kg per hectare
  percent,      ///< by mass
  kg,           ///< of a material, or of the whole product
  bins,         ///< granular materials
  lb_per_acre,  ///< pages of scenarios in US units; never a limit of the library
  lb,           ///< the same, for `kg`
};

/// Nothing, `kg/ha`, `%`, `kg`, `bins`, `lb/acre`, `lb`; ends in a zero byte.
[[nodiscard]] LEASTWISE_API std::string_view to_string(LimitUnit unit);

/// What the limits of a kind of rule are stated in.
[[nodiscard]] LEASTWISE_API LimitUnit limit_unit(RuleKind kind);

/// The same of one rule: a grade of a property with a unit of its own (`salt-index`) has none.
[[nodiscard]] LEASTWISE_API LimitUnit limit_unit(const RuleId& id);

/// The unit of a price of a limit: what one unit more of the limit changes the cost by.
struct PriceUnit {
  std::string money{};              ///< `USD/ha`, `USD/t`
  LimitUnit per = LimitUnit::none;  ///< of the limit
};

/// `USD/ha per kg/ha`.
[[nodiscard]] LEASTWISE_API std::string to_string(const PriceUnit& unit);

}  // namespace leastwise
