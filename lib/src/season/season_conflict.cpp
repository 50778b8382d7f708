#include <algorithm>
#include <utility>

#include "scenario/units.hpp"
#include "season/planner.hpp"
#include "solve/conflict/conflict.hpp"
#include "solve/joint/named_rule.hpp"

namespace leastwise::season {
namespace {

/// Turns the constraints of a conflict into rules of blends, amounts and shared limits.
class Naming {
 public:
  Naming(const Season& season, const SeasonModel& model,
         const std::vector<solve::Constraint>& conflict, const solver::SearchOptions& search)
      : season_(season), model_(model), conflict_(conflict), search_(search) {}

  [[nodiscard]] SeasonConflictRule named(const solve::Constraint& constraint) const {
    const auto& joined = model_.joined();
    const bool limit = constraint.kind == solve::Constraint::Kind::rule;
    if (limit && constraint.index >= joined.first_shared)
      return shared(constraint, joined.shared_of[constraint.index - joined.first_shared]);
    if (constraint.kind == solve::Constraint::Kind::bins) return run(constraint.index);
    if (constraint.kind == solve::Constraint::Kind::minimum_if_used)
      if (const auto goods = model_.goods_of_minimum(constraint.index)) return lot(*goods);
    const std::size_t block = solve::block_of(joined, constraint);
    const std::size_t own = constraint.index - joined.blocks[block].rule;
    if (limit && own >= model_.block(block).first_amount_rule) return amount(constraint, block);
    const SeasonBlend& blend = season_.blends()[model_.blend(block)];
    return {SeasonConflictRule::Of::blend, model_.blend(block), blend.name, blend.period,
            solve::named_rule(joined, {blend.scenario, model_.block(block).model, block}, conflict_,
                              constraint, search_)};
  }

 private:
  /// What all limits outside the scenarios have.
  [[nodiscard]] ConflictingRule limit_of(const solve::Constraint& constraint) const {
    ConflictingRule out;
    const auto& rule = model_.model().rules[constraint.index];
    out.id.kind = rule.kind;
    out.id.side = rule.side;
    out.limit = rule.limit;
    solve::add_shortfall(model_.model(), conflict_, constraint, search_, out);
    return out;
  }

  [[nodiscard]] SeasonConflictRule shared(const solve::Constraint& constraint,
                                          std::size_t number) const {
    auto rule = limit_of(constraint);
    const SharedLimit& limit = season_.shared()[number];
    rule.id.subject = limit.material;
    rule.id.object = limit.yard;
    if (rule.id.side == RuleSide::max) rule.id.side = RuleSide::none;  // as for a blend's own stock
    rule.rule = to_string(rule.id);
    rule.unit = LimitUnit::kg;
    rule.place = limit.place;
    return {SeasonConflictRule::Of::shared, number, limit.material, limit.period, std::move(rule)};
  }

  /// A rule that no amount can describe.
  [[nodiscard]] static ConflictingRule choice_of(RuleId id, double limit, const Place& place) {
    ConflictingRule out;
    out.rule = to_string(id);
    out.unit = limit_unit(id.kind);
    out.id = std::move(id);
    out.limit = limit;
    out.shortfall = out.ends_below = out.ends_above = Known<double>::none();
    out.place = place;
    return out;
  }

  [[nodiscard]] SeasonConflictRule lot(std::size_t number) const {
    const SeasonGoods& goods = season_.goods()[number];
    const std::size_t last = std::max<std::size_t>(1, season_.periods().size()) - 1;
    return {SeasonConflictRule::Of::shared, number, goods.material, last,
            choice_of({.kind = RuleKind::minimum_lot, .subject = goods.material},
                      *goods.minimum_lot_t * kg_per_tonne, goods.place)};
  }

  [[nodiscard]] SeasonConflictRule run(std::size_t number) const {
    const SeasonRun& run = season_.runs()[number];
    return {SeasonConflictRule::Of::run, number, run.name, 0,
            choice_of({.kind = RuleKind::bins}, run.bins, run.place)};
  }

  [[nodiscard]] SeasonConflictRule amount(const solve::Constraint& constraint,
                                          std::size_t block) const {
    auto rule = limit_of(constraint);
    const SeasonBlend& blend = season_.blends()[model_.blend(block)];
    rule.rule = blend.scenario.basis() == Basis::per_tonne ? "tonnes" : "hectares";
    rule.place = blend.place;
    return {SeasonConflictRule::Of::amount, model_.blend(block), blend.name, blend.period,
            std::move(rule)};
  }

  const Season& season_;
  const SeasonModel& model_;
  const std::vector<solve::Constraint>& conflict_;
  const solver::SearchOptions& search_;
};

bool same_rule(const SeasonConflictRule& a, const SeasonConflictRule& b) {
  return a.of == b.of && a.index == b.index && a.rule.id == b.rule.id;
}

}  // namespace

void explain_conflict(const Season& season, const SeasonModel& model,
                      const solver::SearchOptions& search, SeasonPlan& plan) {
  const auto found = solve::irreducible_conflict(model.model(), search);
  plan.irreducible = found.irreducible;
  const Naming naming(season, model, found.constraints, search);
  for (const auto& constraint : found.constraints) {
    auto rule = naming.named(constraint);
    // `exactly` on a nutrient with reduced availability is two rows of one rule.
    if (std::ranges::none_of(plan.conflict, [&](const auto& o) { return same_rule(o, rule); }))
      plan.conflict.push_back(std::move(rule));
  }
  // By blend, the amount first; what is shared at the end.
  std::ranges::stable_sort(plan.conflict, {}, [](const SeasonConflictRule& rule) {
    const bool shared =
        rule.of == SeasonConflictRule::Of::shared || rule.of == SeasonConflictRule::Of::run;
    return std::pair(shared ? ~std::size_t{0} : rule.index,
                     rule.of == SeasonConflictRule::Of::blend);
  });
}

}  // namespace leastwise::season
