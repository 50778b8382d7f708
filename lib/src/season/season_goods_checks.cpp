#include <algorithm>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/tier_checks.hpp"
#include "season/season_builder.hpp"

namespace leastwise {

/// What is bought by quantity is bought for all blends together.
void SeasonBuilder::check_buys_at_one_price(const SeasonBlendDraft& draft,
                                            const std::string& path) {
  for (const Material& material : draft.scenario->materials())
    if (!material.price_tiers.empty() || material.minimum_lot_t)
      diagnostics_.error(codes::bad_season, below(path, "scenario"),
                         "price tiers and minimum lots of a season are of all its blends, found "
                         "some of " +
                             in_quotes(material.name) + " in blend " + in_quotes(draft.name) +
                             "; state price_per_t there, and the rest under purchases in the "
                             "season");
}

SeasonGoods& SeasonBuilder::goods_of(const std::string& material, const std::string& path) {
  const auto known = std::ranges::find(season_.goods_, material, &SeasonGoods::material);
  if (known != season_.goods_.end()) return *known;
  SeasonGoods goods;
  goods.material = material;
  goods.place = place_of(path);
  season_.goods_.push_back(std::move(goods));
  return season_.goods_.back();
}

void SeasonBuilder::resolve_purchases() {
  std::map<std::string, std::string> seen;
  for (const auto& draft : draft_.purchases) {
    const std::string path = below("purchases", draft.material);
    if (!check_once(seen, draft.material, path, "a purchase") ||
        !check_material(draft.material, path))
      continue;
    check_one_material(draft.material, path);
    if (draft.price_tiers.empty() && !draft.minimum_lot_t && !diagnostics_.touched(path)) {
      diagnostics_.error(codes::missing_key, path,
                         "a purchase must say price_tiers or minimum_lot_t, found neither for " +
                             in_quotes(draft.material));
      continue;
    }
    const std::string lot = below(path, "minimum_lot_t");
    if (draft.minimum_lot_t &&
        !checks_.number(lot, "the minimum lot of material " + in_quotes(draft.material),
                        *draft.minimum_lot_t, bought_range))
      continue;
    auto [tiers, tier_price] = resolved_tiers(draft.price_tiers, below(path, "price_tiers"),
                                              draft.material, Units::metric, checks_, diagnostics_);
    SeasonGoods& goods = goods_of(draft.material, path);
    goods.price_tiers = std::move(tiers);
    goods.tier_price = tier_price;
    if (draft.minimum_lot_t.value_or(0) > 0) goods.minimum_lot_t = draft.minimum_lot_t;
  }
}

void SeasonBuilder::resolve_yards() {
  if (!draft_.yards.empty() && !draft_.periods.empty()) {
    diagnostics_.error(codes::bad_season, "yards",
                       "yards hold goods for the whole season, found periods beside them; keep one "
                       "of the two");
    return;
  }
  std::map<std::string, std::string> seen;
  for (const auto& yard : draft_.yards) {
    const std::string path = below("yards", yard.name);
    if (!checks_.name(path, "the name of a yard", yard.name) ||
        !check_once(seen, yard.name, path, "a yard"))
      continue;
    if (yard.stock_kg.empty() && yard.transport_per_t.empty() && !diagnostics_.touched(path))
      diagnostics_.error(codes::missing_key, path,
                         "a yard must say stock_kg or transport_per_t, found neither");
    resolve_yard(yard, path);
  }
}

void SeasonBuilder::resolve_yard(const SeasonYardDraft& yard, const std::string& path) {
  const auto source_of = [&](const std::string& material, const std::string& at) -> SeasonSource& {
    auto& sources = goods_of(material, at).sources;
    const auto known = std::ranges::find(sources, yard.name, &SeasonSource::yard);
    if (known != sources.end()) return *known;
    sources.push_back({yard.name, 0, {}});
    return sources.back();
  };
  std::map<std::string, std::string> stocked;
  for (const auto& stock : yard.stock_kg) {
    const std::string at = below(below(path, "stock_kg"), stock.material);
    if (!check_once(stocked, stock.material, at, "a stock") ||
        !check_material(stock.material, at) ||
        !checks_.limits(at, "the stock of a material", stock.kg, stock_range))
      continue;
    check_one_material(stock.material, at);
    source_of(stock.material, at).limit = season_.shared_.size();
    season_.shared_.push_back({stock.material, stock.kg, 0, place_of(at), yard.name});
  }
  std::map<std::string, std::string> brought;
  for (const auto& [material, price] : yard.transport_per_t) {
    const std::string at = below(below(path, "transport_per_t"), material);
    if (!check_once(brought, material, at, "a transport") || !check_material(material, at) ||
        !checks_.number(at, "the cost of transport", price, charge_range))
      continue;
    check_one_material(material, at);
    source_of(material, at).transport_per_t = price;
  }
}

void SeasonBuilder::resolve_runs() {
  std::map<std::string, std::string> seen;
  std::map<std::string, std::string> made;
  for (const auto& run : draft_.runs) {
    const std::string path = below("runs", run.name);
    if (checks_.name(path, "the name of a run", run.name) &&
        check_once(seen, run.name, path, "a run"))
      resolve(run, path, made);
  }
}

void SeasonBuilder::resolve(const SeasonRunDraft& draft, const std::string& path,
                            std::map<std::string, std::string>& made) {
  constexpr Range bins_range{1, 1000, false, "bins"};
  if (diagnostics_.touched(path) ||
      !checks_.number(below(path, "bins"), "the bins of a run", draft.bins, bins_range))
    return;
  SeasonRun run{draft.name, {}, draft.bins, place_of(below(path, "bins"))};
  if (draft.blends.empty())
    diagnostics_.error(codes::missing_key, path,
                       "a run must list the blends that share its bins, found none; add blends");
  for (std::size_t k = 0; k < draft.blends.size(); ++k) {
    const std::string at = below(below(path, "blends"), std::to_string(k));
    const auto blend = std::ranges::find(season_.blends_, draft.blends[k], &SeasonBlend::name);
    if (blend != season_.blends_.end()) {
      if (check_once(made, draft.blends[k], at, "a blend of a run"))
        run.blends.push_back(static_cast<std::size_t>(blend - season_.blends_.begin()));
      continue;
    }
    if (diagnostics_.touched("blends") || season_.blends_.size() < draft_.blends.size()) continue;
    Suggestion suggestion(draft.blends[k]);
    for (const auto& known : season_.blends_) suggestion.offer(known.name);
    diagnostics_.error(codes::bad_season, at,
                       "expected a blend of the season, found " + in_quotes(draft.blends[k]) +
                           suggestion.question());
  }
  season_.runs_.push_back(std::move(run));
}

/// The scenarios have goods at the best that they can cost, bought and brought.
void SeasonBuilder::price_goods() {
  if (!diagnostics_.empty()) return;
  for (const SeasonGoods& goods : season_.goods_)
    for (SeasonBlend& blend : season_.blends_) {
      const auto i = blend.scenario.index_of(goods.material);
      if (!i) continue;
      const double price = goods.price_tiers.empty() ? blend.scenario.materials()[*i].price_per_t
                                                     : goods.best_price();
      blend.scenario = blend.scenario.with_price(goods.material, price + goods.best_transport());
    }
}

}  // namespace leastwise
