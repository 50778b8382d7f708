#include <leastwise/scenario.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

#include "base/text/wording.hpp"
#include "scenario/builder.hpp"
#include "scenario/checks.hpp"
#include "scenario/diagnostic_sink.hpp"
#include "scenario/price_edit.hpp"
#include "scenario/units.hpp"
#include "scenario/values_read.hpp"

namespace leastwise {

Scenario::Scenario(const ScenarioDraft& draft) {
  ScenarioDraft own = draft;
  forget_changed_places(own);
  *this = ScenarioBuilder(std::move(own), Reading{}).build();
}

std::optional<std::size_t> Scenario::index_of(std::string_view name) const {
  const auto found = std::find_if(materials_.begin(), materials_.end(),
                                  [name](const Material& m) { return m.name == name; });
  if (found == materials_.end()) return std::nullopt;
  return static_cast<std::size_t>(found - materials_.begin());
}

Place Scenario::place_of(std::string_view path) const { return nearest_place(draft_, path); }

bool Scenario::cost_is_bounded() const {
  return basis_ == Basis::per_tonne || total_kg_per_ha_.has_max();
}

double Scenario::cost_of(std::size_t i) const {
  const Material& material = materials_[i];
  const double binder_share =
      material.form_used() == Form::powder ? binder_.percent_of_powder / 100 : 0;
  return (material.price_per_t + material.freight_per_t + binder_share * binder_.price_per_t +
          mass_factor_[i] * blending_fee_per_t_) /
         kg_per_tonne;
}

std::size_t PriceEdit::checked(const Scenario& scenario, std::string_view material,
                               double price_per_t) {
  const auto position = scenario.index_of(material);
  if (!position) {
    throw std::out_of_range("the scenario has no material " + in_quotes(material));
  }
  if (!std::isfinite(price_per_t) || std::abs(price_per_t) > largest_number) {
    throw std::invalid_argument("a price per tonne must be a number between -1e9 and 1e9");
  }
  if (price_per_t < 0 && !scenario.cost_is_bounded()) {
    throw std::invalid_argument("a price below 0 needs a maximum of total_kg_per_ha");
  }
  return *position;
}

Scenario Scenario::with_price(std::string_view material, double price_per_t) const {
  const auto position = PriceEdit::checked(*this, material, price_per_t);
  Scenario changed = *this;
  PriceEdit(changed).set(position, price_per_t);
  ScenarioDraft& draft = changed.draft_;
  const auto listed = std::find_if(draft.prices.begin(), draft.prices.end(),
                                   [&](const PriceDraft& p) { return p.material == material; });
  if (listed != draft.prices.end()) {
    listed->price_per_t = price_per_t;
    listed->price_tiers.clear();
    return changed;
  }
  const auto defined = std::find_if(draft.materials.begin(), draft.materials.end(),
                                    [&](const MaterialDraft& m) { return m.name == material; });
  if (defined == draft.materials.end()) return changed;
  defined->price_per_t = price_per_t;
  defined->price_tiers.clear();
  return changed;
}

}  // namespace leastwise
