#include <algorithm>
#include <array>
#include <string_view>
#include <vector>

#include "base/text/wording.hpp"
#include "base/unit_factors.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

/// How far a price may lie from the middle one before it looks like one of another unit. A filler
/// at 20 and a selenate at 90 000 beside goods at 400 are no mistake.
constexpr double far_below = 100;
constexpr double far_above = 300;

double middle_of(std::vector<double> prices) {
  const auto middle = prices.begin() + static_cast<std::ptrdiff_t>(prices.size() / 2);
  std::nth_element(prices.begin(), middle, prices.end());
  return *middle;
}

}  // namespace

/// A fertilizer of which N, P2O5 and K2O are all asked for below 1 % is none.
void ScenarioBuilder::remark_on_fractions() {
  constexpr std::array<std::string_view, 3> primary{"N", "P2O5", "K2O"};
  std::vector<std::string> small;
  for (const Target& grade : scenario_.grades_) {
    if (std::ranges::find(primary, grade.nutrient) == primary.end()) continue;
    if (!(grade.limits.min > 0)) continue;
    if (grade.limits.min >= 1) return;
    small.push_back(grade.nutrient);
  }
  if (small.empty()) return;
  const auto first = std::ranges::find(scenario_.grades_, small.front(), &Target::nutrient);
  const double asked = first->limits.min;
  add_note(NoteLevel::warning, NoteCode::maybe_fraction, small,
           "contents are in percent, and " + number_text(asked) + " % of " +
               in_quotes(small.front()) + " is hardly any; was " + rounded_text(asked * 100) +
               " meant?");
}

void ScenarioBuilder::remark_on_price_sizes() {
  constexpr std::size_t fewest = 3;  // of two prices nobody knows which is wrong
  std::vector<double> prices;
  for (const Material& material : scenario_.materials_)
    if (material.price_per_t > 0) prices.push_back(material.price_per_t);
  if (prices.size() < fewest) return;
  const double middle = middle_of(prices);
  for (const Material& material : scenario_.materials_) {
    const double price = material.price_per_t;
    if (!(price > 0) || (price * far_below >= middle && price <= middle * far_above)) continue;
    add_note(NoteLevel::warning, NoteCode::price_far_off, {material.name},
             "prices are per " + std::string(draft_.units == Units::us ? "short ton" : "tonne") +
                 ", and that of " + in_quotes(material.name) + ", " +
                 figure_text(price, Measure::price_of_goods, draft_.units) + ", lies more than " +
                 number_text(price < middle ? far_below : far_above) + " times " +
                 (price < middle ? "below" : "above") + " the middle one, " +
                 figure_text(middle, Measure::price_of_goods, draft_.units));
  }
}

}  // namespace leastwise
