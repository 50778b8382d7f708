#include "report/why_section.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {
namespace {

std::string unit_of(const Blend& blend) {
  return std::string(unit_of_basis(blend.basis, blend.units));
}

std::string_view ton_words(Units units) { return units == Units::us ? "short ton" : "tonne"; }

/// `It costs 1050.00 USD/t delivered, and a tonne of it is worth 712.33 here.`
std::string worth_words(const WhyMaterial& why, const Blend& blend) {
  const double dear = why.cost_per_t - why.worth_per_t;
  std::string words = fmt::format(
      "A {} of it costs {} {} here, with freight, binder and fee. What it brings is worth {} at "
      "the prices of this blend's rules",
      ton_words(blend.units), money_text(why.cost_per_t), currency_words(blend.currency),
      money_text(why.worth_per_t));
  if (std::fabs(dear) < 0.005) return words + ": just its cost.";
  if (dear > 0) return words + fmt::format(": it is {} too dear.", money_text(dear));
  return words + fmt::format(", {} more than it costs: its price is not what keeps it out.",
                             money_text(-dear));
}

Table worth_table(const WhyMaterial& why, const Blend& blend) {
  Table table;
  table.add_words("rule");
  table.add_numbers(fmt::format("worth, {} per {} of it", currency_words(blend.currency),
                                unit_name(Measure::goods, blend.units)));
  for (const RuleWorth& worth : why.worth)
    table.add_row({worth.rule == "mass" ? "mass, whatever it holds" : worth.rule,
                   money_text(worth.worth_per_t)});
  return table;
}

std::string entry_words(const WhyMaterial& why, const Blend& blend) {
  const auto& entry = why.enters_below_price_per_t;
  if (entry)
    return fmt::format("It enters below {}.",
                       cost_text(*entry, blend.currency, unit_name(Measure::goods, blend.units)));
  if (!entry.is_computed()) return "Its entry price was not computed.";
  if (why.why == "form") return "Its form cannot enter a granular blend.";
  if (why.why == "unasked micronutrient")
    return "No rule asks for a micronutrient it carries, so no blend takes it at any price.";
  return "It enters at no price from 0 up: even as a gift the cheapest blend leaves it out.";
}

/// `urea 150.5 -> 148.0`: what changes by more than a gram per tonne.
std::string shift_words(const WhyMaterial& why, const Blend& blend) {
  std::vector<std::string> shifts;
  const auto kg_in = [](const std::vector<Portion>& portions, const std::string& name) {
    const auto found = std::ranges::find(portions, name, &Portion::material);
    return found == portions.end() ? 0.0 : found->kg_per_t;
  };
  const auto add = [&](const std::string& name) {
    const double before = kg_in(blend.portions, name);
    const double after = kg_in(why.forced_portions, name);
    if (std::fabs(after - before) < 1e-3 || name == why.material) return;
    shifts.push_back(fmt::format("{} {} -> {}", name, amount_text(before), amount_text(after)));
  };
  for (const Portion& portion : blend.portions) add(portion.material);
  for (const Portion& portion : why.forced_portions)
    if (kg_in(blend.portions, portion.material) == 0) add(portion.material);
  return fmt::format("{}", fmt::join(shifts, ", "));
}

std::string forced_words(const WhyMaterial& why, const Blend& blend) {
  const std::string share =
      fmt::format("{} % of it ({} {} per {} of product)", plain_text(why.forced_percent),
                  plain_text(why.forced_percent / 100 * whole_product(blend.units)),
                  unit_name(Measure::mass, blend.units), ton_words(blend.units));
  if (why.forced_cost) {
    const std::string shifts = shift_words(why, blend);
    return fmt::format(
        "Forcing {} costs {} more{}{}.", share,
        cost_text(why.forced_rise.value(), blend.currency, unit_of(blend)),
        shifts.empty() ? ""
                       : fmt::format("; {} then change: ", unit_name(Measure::dose, blend.units)),
        shifts);
  }
  if (why.forced_cost.is_none())
    return fmt::format("No blend holds {}: it conflicts with {}.", share,
                       fmt::join(why.conflict, ", "));
  return fmt::format("What forcing {} costs was not computed.", share);
}

void write_one(Page& page, const WhyMaterial& why, const Blend& blend) {
  page.heading(why.used ? fmt::format("Why no more {}?", why.material)
                        : fmt::format("Why not {}?", why.material));
  for (const KeptApartFrom& apart : why.apart)
    page.item("  ", fmt::format("Kept apart from {}, which is in the blend: {}", apart.material,
                                with_full_stop(apart.reason)));
  if (why.why == "bins") page.item("  ", "No bin is left for it.");
  if (why.why == "minimum lot") page.item("  ", "Its least lot is too much.");
  if (why.why == "minimum if used") page.item("  ", "Its least usable share is too much.");
  if (!why.worth.empty()) {
    page.item("  ", worth_words(why, blend));
    page.table(worth_table(why, blend));
  }
  if (why.used) return;
  page.item("  ", entry_words(why, blend));
  if (why.why != "form") page.item("  ", forced_words(why, blend));
}

}  // namespace

void write_why(Page& page, const Blend& blend) {
  for (const WhyMaterial& why : blend.why) write_one(page, why, blend);
}

}  // namespace leastwise::report
