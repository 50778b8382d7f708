#pragma once
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

// Each rule of a scenario as a value: what it limits, what it counts of each material and what that
// is measured against. The rows of the model, the exact rows of proofs, the audit of answers, the
// checks of weighed loads and the fingerprint of proofs are all made from these values.

namespace leastwise::rules {

/// What a rule counts of a blend.
enum class Counts {
  nothing,   ///< there is nothing to be measured against: an amount stands by itself
  product,   ///< kg of everything, binder included
  content,   ///< kg of a nutrient or property
  material,  ///< kg of one material
  powders,   ///< kg of powders, with their binder
  granules,  ///< kg of granular materials
  bins,      ///< how many granular materials are in use
  families,  ///< how many of two families are in use
};

/// What is counted, with what each kg of a material adds to it. The views are into the scenario.
struct Quantity {
  Counts counts = Counts::nothing;
  std::string_view name{};                   ///< of a content
  std::span<const double> percent{};         ///< of a content in each material
  std::span<const double> margin_percent{};  ///< what its analyses may be off by, if that counts
  std::optional<double> confidence{};        ///< for which the margins are
  std::span<const double> availability{};    ///< the part that the crop can reach, if that counts
  std::size_t material = 0;                  ///< of `Counts::material`
  std::string_view family_a{};               ///< of `Counts::families`
  std::string_view family_b{};               ///< the other
};

/// One rule, or one side of it where both sides count differently: `of`, divided by `against`,
/// times `scale()`, must not be below (`min`), above (`max`) or off (`exactly`) the limit.
///
/// Lives as long as the scenario it was made from.
struct Rule {
  RuleId id{};                    ///< its name as a value; both halves of `exactly` have one
  RuleSide side = RuleSide::min;  ///< which way it limits; never `none`
  std::size_t index = 0;          ///< into the rates, grades, ratios, materials ... of its kind
  double limit = 0;               ///< in the user's units, `limit_unit(id.kind)`
  Quantity of{};                  ///< what is limited
  Quantity against{};             ///< what it is measured against
  double parts = 1;               ///< units of the limit to one part: 100 for percent
  double make = 1;                ///< hectares or tonnes, where the limit is for a whole job
  bool if_used = false;           ///< says nothing of a blend without the material

  /// What one part is in units of the limit.
  [[nodiscard]] double scale() const { return parts * make; }
  /// Each material weighs in what the limit is measured against, by more than its mass.
  [[nodiscard]] bool is_ratio() const {
    return against.counts != Counts::nothing && against.counts != Counts::product;
  }
  /// A sum over the materials is limited, not which of them are in use.
  [[nodiscard]] bool is_linear() const {
    return of.counts != Counts::bins && of.counts != Counts::families;
  }
  /// It holds or not, by which materials are in use.
  [[nodiscard]] bool is_either_or() const { return if_used || !is_linear(); }
};

/// A rule that guards people and fields: nothing proposes to move its limit, and no rounding does.
[[nodiscard]] inline bool is_guard(RuleKind kind) {
  return kind == RuleKind::unasked || kind == RuleKind::ceiling;
}

/// All rules of `scenario`: its rates, grades, ratios, total, coating, shares, stocks, what guards
/// people and fields, and the either-or rules. Sides that no blend can break are left out.
[[nodiscard]] std::vector<Rule> rules_of(const Scenario& scenario);

/// What a rule is called, and where its limit stands.
struct Origin {
  RuleId id{};         ///< both halves of `exactly` are one
  std::string path{};  ///< dotted, in the scenario: `rates_kg_per_ha.N.min`; empty: built in
};

/// The origin of a rule of that kind; `side` is the way it limits and `index` as in `Rule`.
[[nodiscard]] Origin origin_of(const Scenario& scenario, RuleKind kind, RuleSide side,
                               std::size_t index);

/// What is in a blend: kg per hectare, or kg per tonne of product, by basis.
struct Amounts {
  std::span<const double> kg{};  ///< along `Scenario::materials()`
  /// What lies on the granules beside the materials, as weighed: binder, and a carrier that is no
  /// material; empty: the binder that the powders need.
  std::optional<double> binder_kg{};
};

/// What a blend comes to under one rule.
struct Achieved {
  Rule rule{};
  double of = 0;       ///< of the quantity that is limited
  double against = 1;  ///< of what it is measured against; 1 where it stands by itself

  /// In units of the limit; not a number where there is nothing of either.
  [[nodiscard]] double value() const { return of / against * rule.scale(); }
  /// What `of` should be at least, at most or exactly.
  [[nodiscard]] double needed() const { return rule.limit / rule.scale() * against; }
  /// How far `of` misses that; negative: how far it keeps it.
  [[nodiscard]] double shortfall() const;
  /// The same in parts of what there is or should be, whichever is more.
  [[nodiscard]] double relative_shortfall() const;
};

/// A blend against every rule that says something of it. An amount below a billionth of the largest
/// is not in use.
[[nodiscard]] std::vector<Achieved> measure(const Scenario& scenario, const Amounts& amounts);
/// The same against `rules_of(scenario)`, listed once for many blends.
[[nodiscard]] std::vector<Achieved> measure(const Scenario& scenario, std::span<const Rule> rules,
                                            const Amounts& amounts);

}  // namespace leastwise::rules
