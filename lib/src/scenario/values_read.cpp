#include "scenario/values_read.hpp"

#include <bit>
#include <cstdint>
#include <string_view>

#include "scenario/diagnostic_sink.hpp"

namespace leastwise {
namespace {

/// A digest of values, each told apart from its neighbours (FNV-1a by Fowler, Noll and Vo).
class Digest {
 public:
  void add(std::uint64_t word) {
    for (int byte = 0; byte < 8; ++byte) mix(static_cast<unsigned char>(word >> (8 * byte)));
  }
  void add(double value) { add(std::bit_cast<std::uint64_t>(value)); }
  void add(bool value) { add(std::uint64_t{value}); }
  void add(int value) { add(static_cast<std::uint64_t>(value)); }
  void add(std::string_view text) {
    add(std::uint64_t{text.size()});
    for (const char c : text) mix(static_cast<unsigned char>(c));
  }
  void add(const std::string& text) { add(std::string_view(text)); }
  void add(Form form) { add(static_cast<int>(form)); }
  void add(LimitedCompatibility choice) { add(static_cast<int>(choice)); }
  void add(const Limits& limits) { add_all(limits.min, limits.max); }
  void add(const Content& content) { add_all(content.name, content.percent); }
  void add(const BinderDraft& binder) {
    add_all(binder.material, binder.percent_of_powder, binder.price_per_t, binder.organic);
  }
  void add(const MaterialDraft& m) {
    add_all(m.name, m.form, m.family, m.contains_percent, m.contains_also_percent,
            m.analysis_percent, m.spread_percent, m.formula, m.purity_percent, m.price_per_t,
            m.freight_per_t, m.share_percent, m.min_if_used_percent, m.stock_kg, m.sgn, m.ui,
            m.bulk_density_kg_per_m3, m.ground, m.micronutrient_granule, m.left_out, m.price_tiers,
            m.minimum_lot_t);
  }
  void add(const PriceTierDraft& tier) { add_all(tier.from_t, tier.beyond_t, tier.price_per_t); }
  void add(const PriceDraft& price) {
    add_all(price.material, price.price_per_t, price.freight_per_t, price.supplier,
            price.price_tiers, price.minimum_lot_t);
  }
  void add(const TargetDraft& target) {
    add_all(target.nutrient, target.limits, target.confidence, target.tolerance);
  }
  void add(const PriceSpread& spread) {
    add_all(spread.material, static_cast<int>(spread.shape), spread.percent, spread.min,
            spread.mode, spread.max);
  }
  void add(const PriceCorrelation& pair) { add_all(pair.first, pair.second, pair.r); }
  void add(const PriceHistory& history) { add_all(history.materials, history.dates, history.rows); }
  void add(const PriceUncertainty& risk) {
    add_all(risk.draws.has_value(), static_cast<std::uint64_t>(risk.draws.value_or(0)), risk.seed,
            risk.prices, risk.correlations, risk.history);
  }
  void add(const BagTerms& bags) { add_all(bags.kg, bags.price_each); }
  void add(const QuoteTerms& q) {
    add_all(q.number, q.customer, q.date, q.valid_until, q.overhead_per_t, q.margin_percent,
            q.markup_percent, q.margin_per_t, q.outbound_freight_per_t, q.bags);
  }
  void add(const DeclarationTerms& terms) {
    add_all(terms.rules, terms.stated_as, terms.step_percent);
  }
  void add(const RatioDraft& ratio) { add_all(ratio.of, ratio.to, ratio.limits); }
  template <class T>
  void add(const std::optional<T>& value) {
    add(value.has_value());
    if (value) add(*value);
  }
  template <class T>
  void add(const std::vector<T>& values) {
    add(std::uint64_t{values.size()});
    for (const T& value : values) add(value);
  }
  template <class A, class B>
  void add(const std::pair<A, B>& pair) {
    add_all(pair.first, pair.second);
  }
  template <class... Values>
  void add_all(const Values&... values) {
    (add(values), ...);
  }

  [[nodiscard]] std::uint64_t value() const { return state_; }

 private:
  void mix(unsigned char byte) { state_ = (state_ ^ byte) * 0x100000001b3ULL; }
  std::uint64_t state_ = 0xcbf29ce484222325ULL;
};

/// Calls `visit(path, digest)` for each part of `draft`.
template <class Visit>
void for_each_part(const ScenarioDraft& draft, Visit visit) {
  const auto part = [&](std::string path, const auto&... values) {
    Digest digest;
    digest.add_all(values...);
    visit(std::move(path), digest.value());
  };
  for (const auto& material : draft.materials)
    part(material.path.empty() ? below("materials", material.name) : material.path, material);
  for (const auto& price : draft.prices)
    part(price.path.empty() ? below("prices", price.material) : price.path, price);
  for (const auto& target : draft.rates_kg_per_ha)
    part(below("rates_kg_per_ha", target.nutrient), target);
  for (const auto& target : draft.grade_percent)
    part(below("grade_percent", target.nutrient), target);
  for (std::size_t i = 0; i < draft.ratios.size(); ++i)
    part(below("ratios", std::to_string(i)), draft.ratios[i]);
  part("title", draft.title);
  part("currency", draft.currency);
  part("use", draft.use);
  part("blend.total_kg_per_ha", draft.total_kg_per_ha);
  part("blend.bins", draft.bins);
  part("blend.coating_percent", draft.coating_percent);
  part("blend.binder", draft.binder);
  part("blend.granular_micronutrient_factor", draft.granular_micronutrient_factor,
       draft.granular_micronutrient_factors);
  part("blend.sgn", draft.sgn);
  part("blend.dry_up_to_humidity_percent", draft.dry_up_to_humidity_percent);
  part("blend.blending_fee_per_t", draft.blending_fee_per_t);
  part("blend.confirm_high_rate", draft.confirm_high_rate);
  part("blend.limited_compatibility", draft.limited_compatibility);
  part("compatibility.incompatible", draft.incompatible);
  part("compatibility.limited", draft.limited);
  part("compatibility.compatible", draft.compatible);
  part("make", draft.make_hectares, draft.make_tonnes);
  part("risk", draft.risk);
  part("quote", draft.quote);
  part("declare", draft.declare);
}

}  // namespace

void remember_values(ScenarioDraft& draft) {
  draft.values_read.clear();
  if (draft.places.empty()) return;
  for_each_part(draft, [&](std::string path, std::uint64_t digest) {
    draft.values_read.insert_or_assign(std::move(path), digest);
  });
}

void forget_changed_places(ScenarioDraft& draft) {
  if (draft.values_read.empty()) return;
  for_each_part(draft, [&](const std::string& path, std::uint64_t digest) {
    const auto read = draft.values_read.find(path);
    if (read != draft.values_read.end() && read->second == digest) return;
    const std::string start = path + '.';
    auto it = draft.places.lower_bound(start);
    while (it != draft.places.end() && it->first.starts_with(start)) it = draft.places.erase(it);
    draft.places.insert_or_assign(path, Place{});  // none, and not that of a parent either
  });
}

}  // namespace leastwise
