#include <leastwise/formulate.hpp>
#include <leastwise/season_plan.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include "scenario/units.hpp"
#include "season/planner.hpp"
#include "solve/answer_parts.hpp"

namespace leastwise {
namespace {

using namespace season;

/// A limit is unreached where at least this share of its size is left.
constexpr double clear_room = 1e-6;

bool has_room(double use, const Limits& limits) {
  const auto room = [](double limit) { return clear_room * std::max(1.0, std::fabs(limit)); };
  return (!limits.has_max() || use < limits.max - room(limits.max)) &&
         (!limits.has_min() || use > limits.min + room(limits.min));
}

class Planner {
 public:
  Planner(const Season& season, const SolveOptions& limits)
      : season_(season), time_(limits), limits_(limits) {
    plan_.title = season.title();
    plan_.currency = season.currency();
    plan_.periods.assign(season.periods().begin(), season.periods().end());
    plan_.outcome.detail.clear();
  }

  SeasonPlan run() {
    if (solve_alone()) {
      if (leaves_room())
        take_alone();
      else
        solve_together();
    }
    return std::move(plan_);
  }

 private:
  bool stop(StopCause cause, std::string detail) {
    plan_.outcome = {Status::stopped, {}, cause, std::move(detail)};
    return false;
  }
  [[nodiscard]] SolveOptions options(bool intervals) const {
    const SolveOptions left = time_.options();
    SolveOptions options;
    options.time_limit = left.time_limit;
    options.stop = left.stop;
    options.intervals = intervals;
    return options;
  }
  bool solve_alone();
  [[nodiscard]] MadeBlend alone_amount(const SeasonBlend& blend, const Formulation& answer) const;
  [[nodiscard]] bool leaves_room() const;
  /// Whether what a blend takes changes what another pays for, or which bins are left to it.
  [[nodiscard]] bool buys_together() const {
    return !season_.goods().empty() || !season_.runs().empty();
  }
  void take_alone();
  void solve_together();
  bool take_together(const SeasonModel& model, const solver::SearchResult& found);
  void fill(const std::vector<MadeBlend>& made,
            const std::vector<std::vector<double>>& from_kg = {});
  void add_shared(const std::vector<MadeBlend>& made,
                  const std::vector<std::vector<double>>& from_kg);
  void add_purchases(const std::vector<MadeBlend>& made);
  void add_money(const std::vector<MadeBlend>& made);

  const Season& season_;
  solve::TimeLeft time_;
  const SolveOptions& limits_;
  std::vector<MadeBlend> alone_{};  ///< along the blends: what each would be if nothing were shared
  std::vector<std::optional<Blend>> recipe_alone_{};
  SeasonPlan plan_{};
};

double money_of(const SeasonBlend& blend, const MadeBlend& made) {
  if (!made.blend) return 0;
  const bool by_tonne = blend.scenario.basis() == Basis::per_tonne;
  return made.amount * (by_tonne ? made.blend->cost_per_t : made.blend->cost_per_ha.value_or(0));
}

double tonnes_of(const SeasonBlend& blend, const MadeBlend& made) {
  if (!made.blend || blend.scenario.basis() == Basis::per_tonne) return made.amount;
  return made.amount * made.blend->total_kg_per_ha.value_or(0) / kg_per_tonne;
}

/// As much as it pays to make of a blend if nothing is shared.
MadeBlend Planner::alone_amount(const SeasonBlend& blend, const Formulation& answer) const {
  const Blend* best = answer.blend();
  if (best == nullptr) return {};
  const bool more = blend.price_per_t && *blend.price_per_t > best->cost_per_t;
  const double amount = more ? blend.amount.max : blend.amount.min;
  return amount > 0 ? MadeBlend{amount, *best} : MadeBlend{};
}

/// Each blend as if nothing were shared. False: there is nothing to plan.
bool Planner::solve_alone() {
  for (std::size_t b = 0; b < season_.blends().size(); ++b) {
    const SeasonBlend& blend = season_.blends()[b];
    const Formulation answer = formulate(blend.scenario, options(false));
    if (const Stopped* stopped = answer.stopped()) {
      plan_.impossible.clear();
      return stop(stopped->cause, "blend '" + blend.name + "': " + stopped->detail);
    }
    if (answer.conflict() != nullptr && blend.amount.min > 0) {
      const Formulation why = formulate(blend.scenario, options(true));
      plan_.impossible.push_back(
          {b, blend.name, why.conflict() ? *why.conflict() : *answer.conflict()});
    }
    alone_.push_back(alone_amount(blend, answer));
    recipe_alone_.push_back(answer.blend() ? std::optional(*answer.blend()) : std::nullopt);
    if (limits_.progress)
      limits_.progress(
          {"blends", static_cast<long>(b + 1), static_cast<long>(season_.blends().size())});
  }
  if (plan_.impossible.empty()) return true;
  plan_.outcome.status = Status::infeasible;
  return false;
}

/// Whether all blends as they are alone leave every limit unreached; then they are the best plan.
bool Planner::leaves_room() const {
  if (!season_.storage().empty()) return false;  // then the time of use costs money
  if (buys_together()) return false;
  const auto use = shared_use(season_, alone_);
  for (std::size_t s = 0; s < use.size(); ++s)
    if (!has_room(use[s], season_.shared()[s].kg)) return false;
  return true;
}

void Planner::take_alone() {
  plan_.outcome.status = Status::optimal;
  fill(alone_);
  // No blend could be cheaper whatever there were.
  plan_.certificate = {0, 0, 0, 0};
  for (auto& limit : plan_.shared) add_slack(limit, true);
  for (std::size_t b = 0; b < alone_.size(); ++b) {
    const auto& made = alone_[b];
    if (!made.blend) continue;
    auto& worst = plan_.certificate;
    const auto& own = made.blend->certificate;
    worst.primal_violation = std::max(worst.primal_violation, own.primal_violation);
    worst.dual_violation = std::max(worst.dual_violation, own.dual_violation);
    worst.gap = std::max(worst.gap, own.gap);
    worst.nodes += own.nodes;
    if (season_.blends()[b].amount.exact())
      plan_.blends[b].marginal_cost =
          plan_.blends[b].hectares ? made.blend->cost_per_ha.value_or(0) : made.blend->cost_per_t;
  }
  OneByOne same{Status::optimal, *plan_.cost - plan_.revenue.value_or(0), {}};
  plan_.one_by_one = same;
}

void Planner::solve_together() {
  std::vector<std::size_t> all(season_.blends().size());
  for (std::size_t b = 0; b < all.size(); ++b) all[b] = b;
  const SeasonModel model(season_, all, stated_limits(season_));
  const auto search = solve::counted_search_options(time_.options());
  const auto found = solver::search(model.model(), solver::asked(search));
  switch (found.status) {
    case solver::SearchStatus::optimal:
      if (!take_together(model, found)) return;
      add_worth(model, found, search, plan_);
      add_bins_worth(model, found.cost, search, plan_);
      return;
    case solver::SearchStatus::infeasible:
      plan_.outcome.status = Status::infeasible;
      explain_conflict(season_, model, search, plan_);
      return;
    case solver::SearchStatus::time_limit:
      stop(StopCause::time_limit,
           "the time limit was reached before the blends were solved together");
      return;
    case solver::SearchStatus::cancelled:
      stop(StopCause::cancelled, "stopped on request before the blends were solved together");
      return;
    case solver::SearchStatus::failed:
      break;
  }
  stop(StopCause::numerical, "the solver's answer could not be confirmed, so none is given");
}

/// Takes a proved optimum, once it is confirmed from the season's own numbers.
bool Planner::take_together(const SeasonModel& model, const solver::SearchResult& found) {
  const auto made = confirmed_blends(season_, model, stated_limits(season_), found.x);
  const auto unconfirmed = [&] {
    return stop(StopCause::numerical,
                "the solver's answer could not be confirmed from the season's own numbers, so none "
                "is given");
  };
  if (!made) return unconfirmed();
  fill(made->blends, made->from_kg);
  add_goods(season_, made->blends, made->from_kg, plan_);
  const double net = *plan_.cost - plan_.revenue.value_or(0);
  double money = 1;
  for (const auto& blend : plan_.blends) money += std::fabs(blend.cost);
  if (std::fabs(net - fixed_money(season_) - found.cost) > 1e-8 * money) {
    SeasonPlan none;
    none.title = plan_.title;
    none.currency = plan_.currency;
    none.periods = plan_.periods;
    plan_ = std::move(none);
    return unconfirmed();
  }
  plan_.outcome.status = Status::optimal;
  plan_.certificate = {found.primal_violation, found.dual_violation,
                       (found.cost - found.lower_bound) / std::max(1.0, std::fabs(found.cost)),
                       found.nodes};
  if (!buys_together()) plan_.one_by_one = plan_one_by_one(season_, time_);
  return true;
}

void Planner::fill(const std::vector<MadeBlend>& made,
                   const std::vector<std::vector<double>>& from_kg) {
  double apart = 0;
  for (std::size_t b = 0; b < made.size(); ++b) {
    const SeasonBlend& blend = season_.blends()[b];
    SeasonBlendPlan plan;
    plan.name = blend.name;
    plan.period = blend.period;
    plan.tonnes = tonnes_of(blend, made[b]);
    if (blend.scenario.basis() == Basis::per_hectare) plan.hectares = made[b].amount;
    plan.blend = made[b].blend;
    plan.cost = money_of(blend, made[b]);
    if (blend.price_per_t) plan.revenue = *blend.price_per_t * plan.tonnes;
    plan.cost_alone_per_t =
        recipe_alone_[b] ? Known<double>(recipe_alone_[b]->cost_per_t) : Known<double>::none();
    plan_.blends.push_back(std::move(plan));
    apart += money_of(blend, alone_[b]);
    if (blend.price_per_t) apart -= *blend.price_per_t * tonnes_of(blend, alone_[b]);
  }
  plan_.cost_apart = apart;
  add_shared(made, from_kg);
  add_purchases(made);
  add_money(made);
}

void Planner::add_shared(const std::vector<MadeBlend>& made,
                         const std::vector<std::vector<double>>& from_kg) {
  const auto use = shared_use(season_, made, from_kg);
  for (std::size_t s = 0; s < use.size(); ++s) {
    const SharedLimit& limit = season_.shared()[s];
    SharedLimitPlan plan;
    plan.material = limit.material;
    plan.period = limit.period;
    plan.used_kg = use[s];
    plan.place = limit.place;
    plan.yard = limit.yard;
    // Which blend gets what of a yard is all the same.
    for (std::size_t b = 0; limit.yard.empty() && b < made.size(); ++b) {
      const SeasonBlend& blend = season_.blends()[b];
      if (blend.period > limit.period) continue;
      const SharedUse one{
          b, kg_of_material(blend, made[b], limit.material),
          kg_of_material(blend, {made[b].amount, recipe_alone_[b]}, limit.material)};
      if (one.kg > 0 || one.kg_alone > 0) plan.uses.push_back(one);
    }
    const auto side = [&](RuleSide which, double kg) {
      plan.side = which;
      plan.limit_kg = kg;
      plan_.shared.push_back(plan);
    };
    if (limit.kg.exact()) {
      side(RuleSide::exactly, limit.kg.min);
      continue;
    }
    if (limit.kg.has_min()) side(RuleSide::min, limit.kg.min);
    if (limit.kg.has_max()) side(RuleSide::max, limit.kg.max);
  }
}

void Planner::add_purchases(const std::vector<MadeBlend>& made) {
  const auto buy = [&](const std::string& material, std::size_t period, double kg, double cost) {
    auto found = std::ranges::find_if(plan_.purchases, [&](const SeasonPurchase& purchase) {
      return purchase.period == period && purchase.material == material;
    });
    if (found == plan_.purchases.end())
      found = plan_.purchases.insert(found, {material, period, 0, 0});
    found->kg += kg;
    found->cost += cost;
  };
  for (std::size_t p = 0; p < std::max<std::size_t>(1, season_.periods().size()); ++p)
    for (std::size_t b = 0; b < made.size(); ++b) {
      const SeasonBlend& blend = season_.blends()[b];
      if (blend.period != p || !made[b].blend) continue;
      const double tonnes = tonnes_of(blend, made[b]);
      for (const auto& portion : made[b].blend->portions)
        buy(portion.material, p, portion.kg_per_t * tonnes, portion.cost_per_t * tonnes);
      const BinderUse& binder = made[b].blend->binder;
      if (binder.kg_per_t > 0)
        buy(binder.material.empty() ? "(binder, unnamed)" : binder.material, p,
            binder.kg_per_t * tonnes, binder.cost_per_t * tonnes);
    }
}

void Planner::add_money(const std::vector<MadeBlend>& made) {
  double storing = 0;
  for (const auto& storage : season_.storage())
    for (std::size_t p = 0; p + 1 < storage.kg.size(); ++p) {
      double kept = storage.kg[p];
      for (std::size_t b = 0; b < made.size(); ++b)
        if (season_.blends()[b].period <= p)
          kept -= kg_of_material(season_.blends()[b], made[b], storage.material);
      storing += storage.price_per_t * kept / kg_per_tonne;
    }
  plan_.storage_cost = storing;
  double cost = storing;
  for (const auto& blend : plan_.blends) {
    cost += blend.cost;
    if (blend.revenue) plan_.revenue = plan_.revenue.value_or(0) + *blend.revenue;
  }
  plan_.cost = cost;
}

}  // namespace

SeasonPlan plan_season(const Season& season, const SolveOptions& limits) {
  return Planner(season, limits).run();
}

}  // namespace leastwise
