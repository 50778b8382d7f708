#include "input/price_choice.hpp"

#include <algorithm>
#include <string>

#include "base/codes.hpp"
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

/// Chooses among lines of one list.
class PriceChoice {
 public:
  PriceChoice(NodeReader& reader, const std::vector<PriceLine>& lines, const MaybeDay& on)
      : reader_(reader), lines_(lines), on_(on) {}

  std::vector<PriceDraft> prices() {
    if (!on_ && complained_of_dates()) return {};
    std::vector<PriceDraft> chosen;
    std::vector<std::string_view> done;
    for (const PriceLine& line : lines_) {
      if (std::ranges::find(done, line.price.material) != done.end()) continue;
      done.push_back(line.price.material);
      if (const PriceLine* best = best_of(line.price.material)) {
        remember(*best);
        chosen.push_back(best->price);
      } else {
        complain_of(line);
      }
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

  [[nodiscard]] const PriceLine* best_of(std::string_view material) const {
    const PriceLine* best = nullptr;
    for (const PriceLine& line : lines_) {
      if (line.price.material != material || (on_ && !holds_on(line, *on_))) continue;
      if (best == nullptr || delivered(line) < delivered(*best)) best = &line;
    }
    return best;
  }

  void complain_of(const PriceLine& first) {
    reader_.error(codes::missing_price, path_below(list_path, first.price.material), first.name,
                  "no price of " + in_quotes(first.price.material) + " holds on " +
                      date_text(*on_) + ", found one " + span_words(first));
  }

  void remember(const PriceLine& line) {
    const std::string path = path_below(list_path, line.price.material);
    reader_.remember(path, line.name);
    reader_.remember(path_below(path, "price_per_t"), line.amount);
    if (line.freight) reader_.remember(path_below(path, "freight_per_t"), *line.freight);
  }

  NodeReader& reader_;
  const std::vector<PriceLine>& lines_;
  const MaybeDay& on_;
};

}  // namespace

std::vector<PriceDraft> chosen_prices(NodeReader& reader, const std::vector<PriceLine>& lines,
                                      const MaybeDay& on) {
  return PriceChoice(reader, lines, on).prices();
}

}  // namespace leastwise
