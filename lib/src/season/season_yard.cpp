#include <algorithm>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "season/season_builder.hpp"

namespace leastwise {

SeasonBuilder::Yard& SeasonBuilder::yard_of(const std::string& material, const std::string& path) {
  const auto [at, is_new] = yard_.try_emplace(material);
  if (is_new) {
    order_.push_back(material);
    at->second.path = path;
    at->second.arrives.assign(std::max<std::size_t>(1, draft_.periods.size()), 0.0);
  }
  return at->second;
}

void SeasonBuilder::resolve_stock() {
  std::map<std::string, std::string> seen;
  for (const auto& stock : draft_.stock_kg) {
    const std::string path = below("stock_kg", stock.material);
    if (!check_once(seen, stock.material, path, "a stock") || !check_material(stock.material, path))
      continue;
    if (!checks_.limits(path, "the stock of a material", stock.kg, stock_range)) continue;
    check_one_material(stock.material, path);
    Yard& yard = yard_of(stock.material, path);
    yard.kg = stock.kg;
    yard.limited = stock.kg.has_max();
  }
}

void SeasonBuilder::resolve_supply() {
  if (!draft_.supply_kg.empty() && draft_.periods.empty() && !diagnostics_.touched("periods")) {
    diagnostics_.error(
        codes::bad_season, "supply_kg",
        "supply_kg is by period, found no periods; add periods, such as [march, april]");
    return;
  }
  std::map<std::string, std::string> seen;
  for (const auto& supply : draft_.supply_kg) {
    const std::string path = below("supply_kg", supply.material);
    if (!check_once(seen, supply.material, path, "a supply") ||
        !check_material(supply.material, path))
      continue;
    check_one_material(supply.material, path);
    Yard& yard = yard_of(supply.material, path);
    yard.limited = true;
    if (!yard.kg.has_max()) yard.kg.max = 0;
    std::map<std::string, std::string> named;
    for (const auto& [name, kg] : supply.kg) {
      const std::string at = below(path, name);
      const auto period = period_named(name, at);
      if (!period || !checks_.number(at, "what arrives of a material", kg, stock_range)) continue;
      if (check_once(named, name, at, "a period")) yard.arrives[*period] = kg;
    }
  }
}

/// All that has arrived by the end of each period.
std::vector<double> SeasonBuilder::there_by_period(const Yard& yard) const {
  std::vector<double> there;
  double sum = yard.kg.max;
  for (const double kg : yard.arrives) there.push_back(sum += kg);
  return there;
}

void SeasonBuilder::resolve_storage() {
  if (!draft_.storage_per_t.empty() && draft_.periods.empty() && !diagnostics_.touched("periods")) {
    diagnostics_.error(codes::bad_season, "storage_per_t",
                       "storage costs money from one period to the next, found no periods; add "
                       "periods, such as [march, april]");
    return;
  }
  std::map<std::string, std::string> seen;
  for (const auto& [material, price] : draft_.storage_per_t) {
    const std::string path = below("storage_per_t", material);
    if (!check_once(seen, material, path, "storage") || !check_material(material, path)) continue;
    if (!checks_.number(path, "the cost of storage", price, charge_range)) continue;
    const auto yard = yard_.find(material);
    if (yard == yard_.end() || !yard->second.limited) {
      if (!diagnostics_.touched("stock_kg") && !diagnostics_.touched("supply_kg"))
        diagnostics_.error(
            codes::bad_season, path,
            "storage is of a material with stock_kg or supply_kg, found neither for " +
                in_quotes(material));
      continue;
    }
    season_.storage_.push_back({material, price, there_by_period(yard->second)});
  }
}

void SeasonBuilder::resolve_shared() {
  const std::size_t last = std::max<std::size_t>(1, draft_.periods.size()) - 1;
  for (const auto& material : order_) {
    const Yard& yard = yard_.at(material);
    if (!yard.limited) {
      season_.shared_.push_back({material, yard.kg, last, place_of(yard.path)});
      continue;
    }
    const auto there = there_by_period(yard);
    for (std::size_t p = 0; p <= last; ++p) {
      // Where nothing more arrives the limit of a later period says all of it.
      if (p < last && there[p + 1] == there[p]) continue;
      Limits kg;
      kg.max = there[p];
      if (p == last && yard.kg.has_min()) kg.min = yard.kg.min;
      season_.shared_.push_back({material, kg, p, place_of(yard.path)});
    }
  }
}

}  // namespace leastwise
