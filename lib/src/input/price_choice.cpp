#include "input/price_choice.hpp"

#include <algorithm>
#include <string>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

constexpr std::string_view list_path = "prices";

bool has_dates(const PriceLine& line) { return line.from || line.until; }

bool holds_on(const PriceLine& line, std::chrono::sys_days day) {
  return (!line.from || *line.from <= day) && (!line.until || day <= *line.until);
}

double delivered(const PriceLine& line) {
  return line.price.price_per_t + line.price.freight_per_t.value_or(0);
}

/// When a line holds: `from 2026-03-01 until 2026-03-31`.
std::string span_words(const PriceLine& line) {
  std::string words;
  if (line.from) words = "from " + date_text(*line.from);
  if (line.until) words += (words.empty() ? "until " : " until ") + date_text(*line.until);
  return words;
}

/// Lines of one price: one, or its tiers.
using Offer = std::vector<const PriceLine*>;

bool is_of(const Offer& offer, const PriceLine& line) {
  const PriceLine& first = *offer.front();
  return first.tier && line.tier && first.price.supplier == line.price.supplier &&
         first.from == line.from && first.until == line.until && first.plant == line.plant;
}

/// Chooses among lines of one list.
class PriceChoice {
 public:
  PriceChoice(NodeReader& reader, const std::vector<PriceLine>& lines, const PricesMeant& meant)
      : reader_(reader), lines_(lines), meant_(meant) {}

  std::vector<PriceDraft> prices() {
    if (!meant_.on && complained_of_dates()) return {};
    if (complained_of_plants()) return {};
    std::vector<PriceDraft> chosen;
    std::vector<std::string_view> done;
    for (const PriceLine& line : lines_) {
      if (std::ranges::find(done, line.price.material) != done.end()) continue;
      done.push_back(line.price.material);
      const auto offers = offers_of(line.price.material);
      if (offers.empty())
        complain_of(line);
      else if (!complained_of_quantity(offers))
        chosen.push_back(taken(*std::ranges::min_element(
            offers, {}, [](const Offer& offer) { return delivered(*offer.front()); })));
    }
    return chosen;
  }

 private:
  [[nodiscard]] bool complained_of_dates() {
    const auto dated = std::ranges::find_if(lines_, has_dates);
    if (dated == lines_.end()) return false;
    reader_.error(codes::needs_day, std::string(list_path), dated->name,
                  "a price list with days needs the day of which prices are meant; add prices_on, "
                  "such as prices_on: 2026-03-02, to the scenario, or --on 2026-03-02");
    return true;
  }

  /// A list with plants needs one of them.
  [[nodiscard]] bool complained_of_plants() {
    Suggestion suggestion(meant_.plant);
    const PriceLine* first = nullptr;
    for (const PriceLine& line : lines_) {
      if (line.plant.empty()) continue;
      if (line.plant == meant_.plant) return false;
      if (first == nullptr) first = &line;
      suggestion.offer(line.plant);
    }
    if (first == nullptr) return false;
    reader_.error(
        codes::needs_plant, std::string(list_path), first->name,
        meant_.plant.empty()
            ? "a price list with plants needs the plant to which prices are delivered; "
              "add plant, such as plant: " +
                  first->plant + ", to the scenario, or --plant " + first->plant
            : "the price list has no plant " + in_quotes(meant_.plant) + suggestion.question());
    return true;
  }

  [[nodiscard]] bool is_meant(const PriceLine& line) const {
    return (!meant_.on || holds_on(line, *meant_.on)) &&
           (line.plant.empty() || line.plant == meant_.plant);
  }

  [[nodiscard]] std::vector<Offer> offers_of(std::string_view material) const {
    std::vector<Offer> offers;
    for (const PriceLine& line : lines_) {
      if (line.price.material != material || !is_meant(line)) continue;
      const auto same =
          std::ranges::find_if(offers, [&](const Offer& offer) { return is_of(offer, line); });
      if (same == offers.end())
        offers.push_back({&line});
      else
        same->push_back(&line);
    }
    return offers;
  }

  /// Which of two prices by quantity is lower depends on how much is bought.
  [[nodiscard]] bool complained_of_quantity(const std::vector<Offer>& offers) {
    const auto tiered = std::ranges::find_if(
        offers, [](const Offer& offer) { return offer.front()->tier.has_value(); });
    if (offers.size() == 1 || tiered == offers.end()) return false;
    const PriceLine& line = *tiered->front();
    const PriceLine& other = *(tiered == offers.begin() ? offers[1] : offers[0]).front();
    reader_.error(codes::bad_tiers, path_below(list_path, line.price.material), line.name,
                  "a price by quantity must be the only one of its material that holds, found "
                  "another of " +
                      in_quotes(line.price.material) +
                      "; keep one of the two, or call the goods of the other supplier by another "
                      "name");
    reader_.also(reader_.place_at(other.name), "the other one");
    return true;
  }

  void complain_of(const PriceLine& first) {
    std::string message = "no price of " + in_quotes(first.price.material) + " holds";
    if (meant_.on) message += " on " + date_text(*meant_.on);
    if (!meant_.plant.empty()) message += " for plant " + in_quotes(meant_.plant);
    const std::string span = span_words(first);
    message += ", found one " + span;
    if (!first.plant.empty())
      message += (span.empty() ? "for plant " : " for plant ") + in_quotes(first.plant);
    reader_.error(codes::missing_price, path_below(list_path, first.price.material), first.name,
                  message);
  }

  PriceDraft taken(const Offer& offer) {
    const PriceLine& line = *offer.front();
    const std::string path = path_below(list_path, line.price.material);
    reader_.remember(path, line.name);
    reader_.remember(path_below(path, "price_per_t"), line.amount);
    if (line.freight) reader_.remember(path_below(path, "freight_per_t"), *line.freight);
    PriceDraft price = line.price;
    for (const PriceLine* one : offer) {
      if (!one->tier) continue;
      const std::string list = path_below(path, "price_tiers");
      reader_.remember(path_below(list, std::to_string(price.price_tiers.size())), one->name);
      price.price_tiers.push_back(*one->tier);
    }
    return price;
  }

  NodeReader& reader_;
  const std::vector<PriceLine>& lines_;
  const PricesMeant& meant_;
};

}  // namespace

std::vector<PriceDraft> chosen_prices(NodeReader& reader, const std::vector<PriceLine>& lines,
                                      const PricesMeant& meant) {
  return PriceChoice(reader, lines, meant).prices();
}

}  // namespace leastwise
