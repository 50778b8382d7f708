#include "report/purchase_section.hpp"

#include <fmt/format.h>

#include <optional>
#include <string>

#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {
namespace {

/// `from 25 t: 395.00`, `beyond 25 t: 430.00`.
std::string tier_words(const BlendPurchase& purchase, const PriceTier& tier, std::string_view t) {
  return fmt::format("{} {} {}: {}", purchase.tier_price == TierPrice::all ? "from" : "beyond",
                     plain_text(tier.from_t), t, money_text(tier.price_per_t));
}

Table purchase_table(std::span<const BlendPurchase> purchases, std::string_view currency,
                     const std::string& t) {
  Table table;
  table.add_words("material");
  table.add_numbers("bought, " + t);
  table.add_numbers(fmt::format("paid, {}/{}", currency_words(currency), t));
  table.add_words("price reached");
  table.add_words("next price");
  table.add_numbers(t + " more for that");
  table.add_numbers("least lot, " + t);
  for (const BlendPurchase& purchase : purchases) {
    const auto tier = [&](const std::optional<PriceTier>& one) {
      return one ? tier_words(purchase, *one, t) : std::string();
    };
    table.add_row({purchase.material, amount_text(purchase.tonnes),
                   money_text(purchase.price_paid_per_t), tier(purchase.tier), tier(purchase.next),
                   purchase.next ? amount_text(purchase.short_of_next_t) : std::string(),
                   purchase.minimum_lot_t ? plain_text(*purchase.minimum_lot_t) : std::string()});
  }
  return table;
}

}  // namespace

void write_by_quantity(Page& page, std::span<const BlendPurchase> purchases,
                       std::string_view currency, Units units, std::string_view whose) {
  if (purchases.empty()) return;
  const std::string t(unit_name(Measure::goods, units));
  page.heading("What is bought, by quantity");
  page.table(purchase_table(purchases, currency, t));
  for (const BlendPurchase& purchase : purchases) {
    constexpr double one_cent = 0.005;
    if (purchase.saved_by_buying_up < one_cent) continue;
    page.item("  - ",
              fmt::format("{} {} of {} cost {} {} less than what the {} takes, freight included, "
                          "and leave {} {} over. A {} is priced at what it takes.",
                          plain_text(purchase.next->from_t), t, purchase.material,
                          money_text(purchase.saved_by_buying_up), currency_words(currency), whose,
                          amount_text(purchase.short_of_next_t), t, whose));
  }
}

}  // namespace leastwise::report
