#include "scenario/tier_checks.hpp"

#include <cstddef>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "base/unit_factors.hpp"

namespace leastwise {
namespace {

/// Resolves one tier after the other.
class TierChecks {
 public:
  TierChecks(std::string path, const std::string& material, Units units, Checks& checks,
             DiagnosticSink& diagnostics)
      : path_(std::move(path)),
        owner_(" of material " + in_quotes(material)),
        units_(units),
        checks_(checks),
        diagnostics_(diagnostics) {}

  TieredPrice resolve(const std::vector<PriceTierDraft>& drafts) && {
    for (std::size_t k = 0; k < drafts.size(); ++k)
      if (diagnostics_.touched(at(k)) || !add(drafts[k], k)) break;
    return std::move(price_);
  }

 private:
  [[nodiscard]] std::string at(std::size_t k) const { return below(path_, std::to_string(k)); }
  bool complain(std::size_t k, const std::string& message) {
    diagnostics_.error(codes::bad_tiers, at(k), message);
    return false;
  }
  [[nodiscard]] std::string amount(double tonnes) const {
    return figure_text(tonnes, Measure::goods, units_) + " " +
           std::string(unit_name(Measure::goods, units_));
  }
  [[nodiscard]] std::string change(double from, double to) const {
    return ", found " + figure_text(to, Measure::price_of_goods, units_) + " after " +
           figure_text(from, Measure::price_of_goods, units_);
  }

  bool add(const PriceTierDraft& draft, std::size_t k) {
    if (draft.from_t.has_value() == draft.beyond_t.has_value())
      return complain(k, "a price tier" + owner_ +
                             " must say from_t, from where on every tonne costs its price, or "
                             "beyond_t, for the tonnes beyond that alone, found " +
                             (draft.from_t ? "both; keep one" : "neither"));
    const TierPrice kind = draft.from_t ? TierPrice::all : TierPrice::further;
    if (k > 0 && kind != price_.tier_price)
      return complain(
          k, "the price tiers" + owner_ + " must all say from_t, or all beyond_t, found both");
    price_.tier_price = kind;
    const std::string key = draft.from_t ? "from_t" : "beyond_t";
    const double from = draft.from_t ? *draft.from_t : *draft.beyond_t;
    if (!draft.price_per_t)
      return complain(k,
                      "a price tier" + owner_ + " must have a price, found none; add price_per_t");
    if (!checks_.number(below(at(k), key), key + owner_, from, bought_range) ||
        !checks_.number(below(at(k), "price_per_t"), "the price of a tier" + owner_,
                        *draft.price_per_t, charge_range))
      return false;
    const PriceTier tier{from, *draft.price_per_t};
    if (!(k == 0 ? begins(key, tier) : follows(key, k, tier))) return false;
    price_.tiers.push_back(tier);
    return true;
  }

  bool begins(const std::string& key, const PriceTier& tier) {
    return tier.from_t == 0 ||
           complain(0, "the first price tier" + owner_ + " must begin at 0, found " + key + " " +
                           amount(tier.from_t) +
                           ", which leaves less than that without a price; where less is not "
                           "sold, begin at 0 and add minimum_lot_t");
  }

  bool follows(const std::string& key, std::size_t k, const PriceTier& tier) {
    const PriceTier& before = price_.tiers.back();
    if (tier.from_t <= before.from_t)
      return complain(k, "each price tier" + owner_ +
                             " must begin above the one before, or the two overlap, found " + key +
                             " " + amount(tier.from_t) + " after " + amount(before.from_t));
    const std::string found = change(before.price_per_t, tier.price_per_t);
    const bool falls = tier.price_per_t < before.price_per_t;
    if (price_.tier_price == TierPrice::all && !falls)
      return complain(k, "a price of every tonne" + owner_ + " must fall from tier to tier" +
                             found + "; where only the tonnes beyond cost more, say beyond_t");
    if (price_.tier_price == TierPrice::further && tier.price_per_t <= before.price_per_t)
      return complain(k, "a price of further tonnes" + owner_ + " must rise from tier to tier" +
                             found + "; where every tonne costs less, say from_t");
    return true;
  }

  std::string path_;
  std::string owner_;
  Units units_;
  Checks& checks_;
  DiagnosticSink& diagnostics_;
  TieredPrice price_{};
};

}  // namespace

TieredPrice resolved_tiers(const std::vector<PriceTierDraft>& drafts, const std::string& path,
                           const std::string& material, Units units, Checks& checks,
                           DiagnosticSink& diagnostics) {
  return TierChecks(path, material, units, checks, diagnostics).resolve(drafts);
}

}  // namespace leastwise
