#include "scenario/rules.hpp"

#include <algorithm>

#include "scenario/units.hpp"

namespace leastwise::rules {
namespace {

constexpr double hundred = 100;

/// Lists the rules of a scenario, kind after kind.
class Lister {
 public:
  explicit Lister(const Scenario& scenario) : scenario_(scenario) {}

  std::vector<Rule> list() {
    for (std::size_t k = 0; k < scenario_.rates().size(); ++k) rate(k);
    for (std::size_t k = 0; k < scenario_.grades().size(); ++k) grade(k);
    for (std::size_t k = 0; k < scenario_.ratios().size(); ++k) ratio(k);
    total();
    coating();
    each_material([this](std::size_t i) { share(i); });
    each_material([this](std::size_t i) { stock(i); });
    for (const auto& unasked : scenario_.unasked())
      if (scenario_.materials()[unasked.material].can_enter())
        add(RuleKind::unasked, RuleSide::max, unasked.material, 0, {material(unasked.material)});
    for (std::size_t k = 0; k < scenario_.ceilings().size(); ++k) ceiling(k);
    each_material([this](std::size_t i) { minimum_if_used(i); });
    each_material([this](std::size_t i) { minimum_lot(i); });
    either_or();
    return std::move(rules_);
  }

 private:
  template <class Visit>
  void each_material(Visit visit) const {
    for (std::size_t i = 0; i < scenario_.materials().size(); ++i)
      if (scenario_.materials()[i].can_enter()) visit(i);
  }

  /// Calls `visit(side, limit)` for each side that is limited; once for an equality.
  template <class Visit>
  static void each_side(const Limits& limits, Visit visit) {
    if (limits.exact()) return visit(RuleSide::exactly, limits.min);
    if (limits.has_min()) visit(RuleSide::min, limits.min);
    if (limits.has_max()) visit(RuleSide::max, limits.max);
  }

  Rule& add(RuleKind kind, RuleSide side, std::size_t index, double limit, Quantity of) {
    rules_.push_back({origin_of(scenario_, kind, side, index).id, side, index, limit, of});
    return rules_.back();
  }
  /// One in percent of `against`.
  Rule& percent(Rule& rule, Quantity against) {
    rule.against = against;
    rule.parts = hundred;
    return rule;
  }

  static Quantity material(std::size_t i) {
    Quantity quantity{Counts::material};
    quantity.material = i;
    return quantity;
  }
  static Quantity content(std::string_view name, std::span<const double> percent) {
    return {Counts::content, name, percent};
  }
  /// What one side of a target counts: a minimum what is sure and, of a rate, what the crop can
  /// reach; a maximum all that may be there.
  static Quantity counted(const Target& target, bool reach) {
    Quantity quantity = content(target.nutrient, target.content_percent);
    quantity.margin_percent = target.margin_percent;
    if (!target.margin_percent.empty()) quantity.confidence = target.confidence;
    if (reach) quantity.availability = target.availability;
    return quantity;
  }

  void rate(std::size_t k) {
    const Target& target = scenario_.rates()[k];
    const bool reduced =
        std::ranges::any_of(target.availability, [](double part) { return part != 1; });
    const bool apart = reduced || !target.margin_percent.empty();
    const auto one = [&](RuleSide side, double limit) {
      add(RuleKind::rate, side, k, limit, counted(target, reduced && side == RuleSide::min));
    };
    if (apart && target.limits.exact()) {
      one(RuleSide::min, target.limits.min);
      one(RuleSide::max, target.limits.max);
    } else {
      each_side(target.limits, one);
    }
  }

  void grade(std::size_t k) {
    const Target& target = scenario_.grades()[k];
    each_side(target.limits, [&](RuleSide side, double limit) {
      percent(add(RuleKind::grade, side, k, limit, counted(target, false)), {Counts::product});
    });
  }

  void ratio(std::size_t k) {
    const Ratio& ratio = scenario_.ratios()[k];
    each_side(ratio.limits, [&](RuleSide side, double limit) {
      add(RuleKind::ratio, side, k, limit, content(ratio.of, ratio.of_percent)).against =
          content(ratio.to, ratio.to_percent);
    });
  }

  void total() {
    if (scenario_.basis() == Basis::per_tonne) return;
    each_side(scenario_.total_kg_per_ha(), [&](RuleSide side, double limit) {
      add(RuleKind::total, side, 0, limit, {Counts::product});
    });
  }

  void coating() {
    const auto is_powder = [](const Material& material) {
      return material.can_enter() && material.form_used() != Form::granule;
    };
    if (std::ranges::none_of(scenario_.materials(), is_powder)) return;
    percent(add(RuleKind::coating, RuleSide::max, 0, scenario_.coating_max_percent(),
                {Counts::powders}),
            {Counts::granules});
  }

  void share(std::size_t i) {
    const Material& goods = scenario_.materials()[i];
    each_side(goods.share_percent, [&](RuleSide side, double limit) {
      if (side == RuleSide::min && limit == 0) return;
      if (side == RuleSide::max && limit >= hundred) return;
      const bool left_out = side == RuleSide::max && goods.left_out;
      percent(add(left_out ? RuleKind::left_out : RuleKind::share, side, i, limit, material(i)),
              {Counts::product});
    });
  }

  void stock(std::size_t i) {
    const auto& stock_kg = scenario_.materials()[i].stock_kg;
    if (stock_kg && (scenario_.make_hectares() || scenario_.make_tonnes()))
      in_all(add(RuleKind::stock, RuleSide::max, i, *stock_kg, material(i)));
  }

  void minimum_lot(std::size_t i) {
    const auto& lot_t = scenario_.materials()[i].minimum_lot_t;
    if (!lot_t || *lot_t <= 0) return;
    Rule& rule = add(RuleKind::minimum_lot, RuleSide::min, i, *lot_t * kg_per_tonne, material(i));
    in_all(rule);
    rule.if_used = true;
  }

  /// A rule on all kg of a material for what is made.
  void in_all(Rule& rule) const {
    rule.make = scenario_.make_hectares().value_or(scenario_.make_tonnes().value_or(1));
    if (scenario_.make_hectares()) return;
    rule.against = {Counts::product};
    rule.parts = kg_per_tonne;
  }

  void ceiling(std::size_t k) {
    const Ceiling& ceiling = scenario_.ceilings()[k];
    Rule& rule = add(RuleKind::ceiling, RuleSide::max, k, ceiling.kg_per_ha,
                     content(ceiling.element, ceiling.content_percent));
    if (scenario_.basis() == Basis::per_hectare) return;
    // A product by the tonne has ceilings where it is known how much of it a hectare gets.
    rule.against = {Counts::product};
    rule.parts = *scenario_.product_kg_per_ha();
  }

  void minimum_if_used(std::size_t i) {
    const double least = scenario_.materials()[i].min_if_used_percent;
    if (least <= 0) return;
    percent(add(RuleKind::minimum_if_used, RuleSide::min, i, least, material(i)), {Counts::product})
        .if_used = true;
  }

  void either_or() {
    for (std::size_t k = 0; k < scenario_.exclusions().size(); ++k) {
      Quantity families{Counts::families};
      families.family_a = scenario_.exclusions()[k].family_a;
      families.family_b = scenario_.exclusions()[k].family_b;
      if (!may_enter(families.family_a) || !may_enter(families.family_b)) continue;
      add(RuleKind::exclusion, RuleSide::max, k, 1, families);
    }
    if (scenario_.bins()) add(RuleKind::bins, RuleSide::max, 0, *scenario_.bins(), {Counts::bins});
  }

  [[nodiscard]] bool may_enter(std::string_view family) const {
    return std::ranges::any_of(scenario_.materials(), [&](const Material& material) {
      return material.can_enter() && material.family == family;
    });
  }

  const Scenario& scenario_;
  std::vector<Rule> rules_{};
};

}  // namespace

std::vector<Rule> rules_of(const Scenario& scenario) { return Lister(scenario).list(); }

}  // namespace leastwise::rules
