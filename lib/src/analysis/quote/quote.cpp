#include <leastwise/declare.hpp>
#include <leastwise/diagnostic.hpp>
#include <leastwise/quote.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "scenario/diagnostic_sink.hpp"
#include "scenario/units.hpp"

namespace leastwise {
namespace {

long long cents_of(double money) { return std::llround(money * 100); }
double money_of(long long cents) { return static_cast<double>(cents) / 100; }

/// Rounds amounts that are added one after another so that each sum is the exact one, rounded: a
/// line is never a whole cent off.
class RunningSum {
 public:
  /// The next line, in whole cents.
  long long add(double amount) {
    exact_ += amount;
    const long long before = std::exchange(rounded_, cents_of(exact_));
    return rounded_ - before;
  }
  [[nodiscard]] long long cents() const { return rounded_; }
  [[nodiscard]] double exact() const { return exact_; }

 private:
  double exact_ = 0;
  long long rounded_ = 0;
};

/// Whose price of a material the price list has.
std::string supplier_of(const Scenario& scenario, const std::string& material) {
  const auto& prices = scenario.draft().prices;
  const auto line = std::ranges::find(prices, material, &PriceDraft::material);
  return line == prices.end() ? std::string() : line->supplier;
}

/// Adds the lines of a quote one after another, per tonne and for the order.
class QuoteWriter {
 public:
  QuoteWriter(const Scenario& scenario, Quote& quote)
      : scenario_(scenario), terms_(quote.terms), quote_(quote) {}

  void add_costs();
  void add_price();

 private:
  void line(QuoteLine line, double exact_per_t, std::optional<double> exact_order = {});
  void add_materials();
  void add_bags();
  [[nodiscard]] double margin_per_t(double cost) const;
  [[nodiscard]] double tonnes() const { return quote_.tonnes.value_or(0); }
  /// A figure that is metric, in the units of the quote.
  [[nodiscard]] double own(double value, Measure measure) const {
    return from_metric(value, measure, quote_.units);
  }
  [[nodiscard]] double price(double per_t) const { return own(per_t, Measure::price_of_goods); }
  /// kg in a tonne, or lb in a short ton.
  [[nodiscard]] double whole() const { return own(kg_per_tonne, Measure::dose); }

  const Scenario& scenario_;
  const QuoteTerms& terms_;
  Quote& quote_;
  RunningSum per_t_{};
  RunningSum order_{};
};

void QuoteWriter::line(QuoteLine line, double exact_per_t, std::optional<double> exact_order) {
  line.amount_per_t = money_of(per_t_.add(exact_per_t));
  if (quote_.tonnes) {
    line.amount = money_of(order_.add(exact_order.value_or(exact_per_t * tonnes())));
    if (line.kg_per_t) line.kg = *line.kg_per_t * tonnes();
  }
  quote_.lines.push_back(std::move(line));
}

void QuoteWriter::add_materials() {
  for (const Portion& portion : quote_.blend.portions) {
    const std::size_t i = *scenario_.index_of(portion.material);
    const Material& material = scenario_.materials()[i];
    const double paid = scenario_.price_paid_per_t(i, portion.kg_per_ha.value_or(portion.kg_per_t));
    QuoteLine material_line;
    material_line.name = portion.material;
    material_line.supplier = supplier_of(scenario_, portion.material);
    material_line.form = portion.form;
    material_line.kg_per_t = own(portion.kg_per_t, Measure::dose);
    material_line.price_per_t = price(paid);
    material_line.freight_per_t = price(material.freight_per_t);
    material_line.delivered_per_t = price(paid + material.freight_per_t);
    line(std::move(material_line), price(portion.cost_per_t));
  }
}

/// Bags come whole: an order pays for the last one too, and spreads that over its tonnes.
void QuoteWriter::add_bags() {
  if (!terms_.bags) return;
  const auto& bags = *terms_.bags;
  double per_t = whole() / bags.kg * bags.price_each;
  if (quote_.tonnes) {
    constexpr double rounding = 1e-9;  // 24 t are 960 bags of 25 kg, not 961
    const double count = std::ceil(tonnes() * whole() / bags.kg * (1 - rounding));
    quote_.bags = static_cast<long>(count);
    per_t = count * bags.price_each / tonnes();
  }
  line({.kind = QuoteLineKind::bags}, per_t);
}

void QuoteWriter::add_costs() {
  add_materials();
  quote_.per_t.materials = money_of(per_t_.cents());
  if (quote_.order) quote_.order->materials = money_of(order_.cents());
  const Blend& blend = quote_.blend;
  if (blend.binder.kg_per_t > 0) {
    QuoteLine binder{.kind = QuoteLineKind::binder, .name = blend.binder.material};
    binder.kg_per_t = own(blend.binder.kg_per_t, Measure::dose);
    binder.price_per_t = binder.delivered_per_t = price(scenario_.binder().price_per_t);
    line(std::move(binder), price(blend.binder.cost_per_t));
  }
  if (blend.breakdown.blending_per_t != 0)
    line({.kind = QuoteLineKind::blending}, price(blend.breakdown.blending_per_t));
  if (terms_.overhead_per_t) line({.kind = QuoteLineKind::overhead}, *terms_.overhead_per_t);
  add_bags();
  quote_.per_t.cost = money_of(per_t_.cents());
  if (quote_.order) quote_.order->cost = money_of(order_.cents());
}

double QuoteWriter::margin_per_t(double cost) const {
  if (terms_.margin_percent) return cost * *terms_.margin_percent / (100 - *terms_.margin_percent);
  if (terms_.markup_percent) return cost * *terms_.markup_percent / 100;
  return terms_.margin_per_t.value_or(0);
}

/// From the cost to what the customer pays: the price of a tonne is whole cents, and the order
/// costs that price times its tonnes.
void QuoteWriter::add_price() {
  const bool margin = terms_.margin_percent || terms_.markup_percent || terms_.margin_per_t;
  const auto order_of = [&](double price) { return money_of(cents_of(price * tonnes())); };
  quote_.per_t.at_plant = money_of(cents_of(per_t_.exact() + margin_per_t(per_t_.exact())));
  QuoteLine gain{.kind = margin ? QuoteLineKind::margin : QuoteLineKind::rounding};
  gain.amount_per_t = money_of(cents_of(quote_.per_t.at_plant - quote_.per_t.cost));
  if (quote_.order) {
    quote_.order->at_plant = order_of(quote_.per_t.at_plant);
    gain.amount = money_of(cents_of(quote_.order->at_plant - quote_.order->cost));
  }
  if (margin || gain.amount.value_or(0) != 0) quote_.lines.push_back(gain);
  quote_.per_t.delivered =
      money_of(cents_of(quote_.per_t.at_plant + terms_.outbound_freight_per_t.value_or(0)));
  if (quote_.order) quote_.order->delivered = order_of(quote_.per_t.delivered);
  if (!terms_.outbound_freight_per_t) return;
  QuoteLine freight{.kind = QuoteLineKind::outbound_freight};
  freight.amount_per_t = money_of(cents_of(quote_.per_t.delivered - quote_.per_t.at_plant));
  if (quote_.order)
    freight.amount = money_of(cents_of(quote_.order->delivered - quote_.order->at_plant));
  quote_.lines.push_back(std::move(freight));
}

/// A powder needs a binder, and a binder without a stated price would be quoted as a gift.
void need_prices(const Scenario& scenario, const Blend& blend) {
  const auto& binder = scenario.draft().binder;
  if (!(blend.binder.kg_per_t > 0) || (binder && binder->price_per_t)) return;
  DiagnosticSink diagnostics(scenario.draft(), {});
  diagnostics.error(
      codes::missing_price, "blend.binder.price_per_t",
      "a quote needs the price of all that it holds, and the binder" +
          (blend.binder.material.empty() ? std::string() : " " + in_quotes(blend.binder.material)) +
          " has none; add price_per_t under blend.binder, 0 if it costs nothing");
  throw InputError(diagnostics.take());
}

/// The terms in the units of the quote.
QuoteTerms own_terms(QuoteTerms terms, Units units) {
  const auto turn = [units](std::optional<double>& per_t) {
    if (per_t) per_t = from_metric(*per_t, Measure::price_of_goods, units);
  };
  turn(terms.overhead_per_t);
  turn(terms.margin_per_t);
  turn(terms.outbound_freight_per_t);
  if (terms.bags) terms.bags->kg = from_metric(terms.bags->kg, Measure::mass, units);
  return terms;
}

/// How many tonnes the scenario says to make.
std::optional<double> tonnes_of(const Scenario& scenario, const Blend& blend) {
  if (scenario.make_tonnes()) return scenario.make_tonnes();
  if (scenario.make_hectares() && blend.total_kg_per_ha)
    return *scenario.make_hectares() * *blend.total_kg_per_ha / kg_per_tonne;
  return std::nullopt;
}

void add_limits(RuleKind kind, const std::string& subject, const std::string& object,
                const Limits& limits, std::vector<QuoteLimit>& asked) {
  const auto add = [&](RuleSide side, double limit) {
    const RuleId id{kind, subject, object, side};
    asked.push_back({id, limit, limit_unit(id)});
  };
  if (limits.exact()) return add(RuleSide::exactly, limits.min);
  if (limits.has_min()) add(RuleSide::min, limits.min);
  if (limits.has_max()) add(RuleSide::max, limits.max);
}

/// Turns a limit into US units.
void turn_limit(QuoteLimit& asked) {
  if (asked.unit != LimitUnit::kg_per_ha) return;
  asked.limit = from_metric(asked.limit, Measure::rate, Units::us);
  asked.unit = LimitUnit::lb_per_acre;
}

std::vector<QuoteLimit> limits_of(const Scenario& scenario) {
  std::vector<QuoteLimit> asked;
  for (const Target& rate : scenario.rates())
    add_limits(RuleKind::rate, rate.nutrient, {}, rate.limits, asked);
  for (const Target& grade : scenario.grades())
    add_limits(RuleKind::grade, grade.nutrient, {}, grade.limits, asked);
  for (const Ratio& ratio : scenario.ratios())
    add_limits(RuleKind::ratio, ratio.of, ratio.to, ratio.limits, asked);
  add_limits(RuleKind::total, {}, {}, scenario.total_kg_per_ha(), asked);
  if (scenario.bins())
    asked.push_back({{.kind = RuleKind::bins},
                     static_cast<double>(*scenario.bins()),
                     limit_unit(RuleKind::bins)});
  if (scenario.draft().units == Units::us) std::ranges::for_each(asked, turn_limit);
  return asked;
}

}  // namespace

std::string_view to_string(QuoteLineKind kind) {
  switch (kind) {
    case QuoteLineKind::material:
      return "material";
    case QuoteLineKind::binder:
      return "binder";
    case QuoteLineKind::blending:
      return "blending";
    case QuoteLineKind::overhead:
      return "overhead";
    case QuoteLineKind::bags:
      return "bags";
    case QuoteLineKind::margin:
      return "margin";
    case QuoteLineKind::rounding:
      return "rounding";
    case QuoteLineKind::outbound_freight:
      return "outbound-freight";
  }
  return {};
}

Quote quote_of(const Scenario& scenario, const Blend& blend) {
  need_prices(scenario, blend);
  Quote quote;
  quote.units = scenario.draft().units;
  quote.terms = own_terms(scenario.draft().quote.value_or(QuoteTerms{}), quote.units);
  quote.price_list = scenario.draft().price_list;
  quote.prices_on = scenario.draft().prices_on;
  quote.plant = scenario.draft().plant;
  quote.blend = blend;
  quote.tonnes = tonnes_of(scenario, blend);
  if (quote.tonnes) quote.tonnes = from_metric(*quote.tonnes, Measure::goods, quote.units);
  quote.hectares = scenario.make_hectares();
  if (quote.hectares) quote.hectares = from_metric(*quote.hectares, Measure::land, quote.units);
  if (quote.tonnes) quote.order.emplace();
  QuoteWriter writer(scenario, quote);
  writer.add_costs();
  writer.add_price();
  if (blend.total_kg_per_ha)
    quote.delivered_per_ha = quote.per_t.delivered *
                             from_metric(*blend.total_kg_per_ha, Measure::rate, quote.units) *
                             from_metric(1, Measure::goods, quote.units) /
                             from_metric(kg_per_tonne, Measure::mass, quote.units);
  quote.asked = limits_of(scenario);
  quote.declared = declared_analysis(scenario, blend.portions);
  return quote;
}

}  // namespace leastwise
