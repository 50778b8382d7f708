#include "report/recipe_table.hpp"

#include <leastwise/nutrient.hpp>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"

namespace leastwise::report {
namespace {

/// Makes the cells of one recipe: all know the basis and what the whole blend costs.
class RecipeRows {
 public:
  RecipeRows(Basis basis, Units units, std::string_view currency, double cost_per_t,
             std::optional<double> kg_per_ha)
      : basis_(basis), units_(units), cost_per_t_(cost_per_t), kg_per_ha_(kg_per_ha) {
    table_.add_words("material");
    table_.add_words("");
    table_.add_numbers(std::string(unit_name(Measure::rate, units)));
    table_.add_numbers(std::string(unit_name(Measure::dose, units)));
    table_.add_numbers(cost_heading(currency, basis, units));
    table_.add_numbers("of cost");
  }

  void add(const std::string& name, std::string_view role, std::optional<double> kg_per_ha,
           std::optional<double> kg_per_t, double cost_per_t,
           std::optional<double> cost_per_ha = {}) {
    const double cost =
        basis_ == Basis::per_tonne ? cost_per_t : cost_per_ha.value_or(per_hectare(cost_per_t));
    table_.add_row({name, std::string(role), kg_per_ha ? amount_text(*kg_per_ha) : "",
                    kg_per_t ? amount_text(*kg_per_t) : "", money_text(cost),
                    cost_per_t_ > 0 ? share_text(100 * cost_per_t / cost_per_t_) + " %" : ""});
  }

  [[nodiscard]] Table table() && { return std::move(table_); }

 private:
  [[nodiscard]] double per_hectare(double per_t) const {
    return per_t * kg_per_ha_.value_or(0) / whole_product(units_);
  }

  Basis basis_;
  Units units_;
  double cost_per_t_;
  std::optional<double> kg_per_ha_;
  Table table_{};
};

std::string_view role_of(const Portion& portion) {
  return portion.form == Form::powder ? "powder coating" : "";
}

bool is_limited(const Supply& supply) {
  return supply.rate_kg_per_ha != Limits{} || supply.grade_percent != Limits{};
}

bool differs(double a, double b) {
  return std::abs(a - b) > 1e-9 * std::max(std::abs(a), std::abs(b));
}

/// What the crop can reach, where that is not all that is there.
std::string reached(const Supply& supply) {
  if (!supply.kg_per_ha || !supply.effective_kg_per_ha) return {};
  if (!differs(*supply.kg_per_ha, *supply.effective_kg_per_ha)) return {};
  return amount_text(*supply.effective_kg_per_ha);
}

}  // namespace

std::string asked_words(const Limits& limits) {
  if (limits.exact()) return "exactly " + plain_text(limits.min);
  if (limits.has_min() && limits.has_max()) {
    return fmt::format("{} to {}", plain_text(limits.min), plain_text(limits.max));
  }
  if (limits.has_min()) return "at least " + plain_text(limits.min);
  if (limits.has_max()) return "at most " + plain_text(limits.max);
  return {};
}

std::string asked_percent_words(const Supply& supply) {
  std::string words = asked_words(supply.grade_percent);
  if (supply.declared_percent)
    words += fmt::format(" ({} less its tolerance)", plain_text(*supply.declared_percent));
  return words;
}

Table recipe_table(const Blend& blend) {
  RecipeRows rows(blend.basis, blend.units, blend.currency, blend.cost_per_t,
                  blend.total_kg_per_ha);
  for (const Portion& portion : blend.portions) {
    rows.add(portion.material, role_of(portion), portion.kg_per_ha, portion.kg_per_t,
             portion.cost_per_t, portion.cost_per_ha);
  }
  if (blend.binder.kg_per_t > 0) {
    const bool named = !blend.binder.material.empty();
    rows.add(named ? blend.binder.material : "(binder, unnamed)", named ? "binder" : "",
             blend.binder.kg_per_ha, blend.binder.kg_per_t, blend.binder.cost_per_t);
  }
  if (blend.breakdown.blending_per_t != 0) {
    rows.add("blending fee", "", {}, {}, blend.breakdown.blending_per_t);
  }
  rows.add("total", "", blend.total_kg_per_ha, whole_product(blend.units), blend.cost_per_t,
           blend.cost_per_ha);
  return std::move(rows).table();
}

Table portions_table(std::span<const Portion> portions, Basis basis, Units units,
                     std::string_view currency) {
  RecipeRows rows(basis, units, currency, 0, {});
  for (const Portion& portion : portions) {
    rows.add(portion.material, role_of(portion), portion.kg_per_ha, portion.kg_per_t,
             portion.cost_per_t, portion.cost_per_ha);
  }
  return std::move(rows).table();
}

namespace {

/// `3.1 times asked`, where more than twice the minimum is there; else nothing.
std::string surplus_words(const Supply& supply) {
  constexpr double surplus = 2;
  double times = 0;
  const auto weigh = [&](double there, const Limits& asked) {
    if (asked.has_min() && asked.min > 0) times = std::max(times, there / asked.min);
  };
  if (supply.effective_kg_per_ha) weigh(*supply.effective_kg_per_ha, supply.rate_kg_per_ha);
  weigh(supply.percent, supply.grade_percent);
  return times > surplus ? fmt::format("{:.1f} times asked", times) : std::string();
}

}  // namespace

Table supply_table(const Blend& blend) {
  Table table;
  table.add_words("");
  table.add_words("asked, " + std::string(unit_name(Measure::rate, blend.units)));
  table.add_numbers("supplied");
  table.add_numbers("reached");
  table.add_words("asked, %");
  table.add_numbers("% of product");
  table.add_words("");
  for (const Supply& supply : blend.supply) {
    if (supply.percent == 0 && !is_limited(supply)) continue;
    table.add_row({is_percentage(supply.nutrient) ? supply.nutrient : supply.nutrient + " (not %)",
                   asked_words(supply.rate_kg_per_ha),
                   supply.kg_per_ha ? amount_text(*supply.kg_per_ha) : "", reached(supply),
                   asked_percent_words(supply), amount_text(supply.percent),
                   surplus_words(supply)});
  }
  return table;
}

}  // namespace leastwise::report
