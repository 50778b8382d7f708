#include "support/reading.hpp"

#include <leastwise/nutrient.hpp>

#include <limits>
#include <numeric>

namespace leastwise::support {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

RuleSide side_of(const Limits& limits, bool of_min) {
  if (limits.exact()) return RuleSide::exactly;
  return of_min ? RuleSide::min : RuleSide::max;
}

class Reader {
 public:
  explicit Reader(const Scenario& scenario) : scenario_(scenario) {
    for (const Material& material : scenario.materials()) materials_.push_back(&material);
  }

  Reading read() {
    result_.basis = scenario_.basis();
    read_materials();
    if (result_.basis == Basis::per_tonne) add({.kind = RuleKind::total}, result_.mass, 1000, 1000);
    read_total();
    read_rates();
    read_grades();
    read_ratios();
    read_coating();
    for (std::size_t i = 0; i < materials_.size(); ++i) {
      read_share(i);
      read_stock(i);
    }
    read_exclusions();
    result_.bins = scenario_.bins().value_or(0);
    return std::move(result_);
  }

 private:
  void add(RuleId id, std::vector<double> coefficient, double lower, double upper) {
    result_.rules.push_back({std::move(id), std::move(coefficient), lower, upper});
  }

  /// Both sides of `limits` for rows whose coefficients depend on the side.
  template <typename Coefficient>
  void add_homogeneous(RuleId id, const Limits& limits, Coefficient coefficient) {
    for (const bool of_min : {true, false}) {
      if (of_min ? !limits.has_min() : !limits.has_max()) continue;
      std::vector<double> row(materials_.size());
      for (std::size_t i = 0; i < row.size(); ++i)
        row[i] = coefficient(i, of_min ? limits.min : limits.max);
      id.side = side_of(limits, of_min);
      add(id, row, of_min ? 0 : -infinity, of_min ? infinity : 0);
    }
  }

  void read_materials() {
    const double binder_share = scenario_.binder().percent_of_powder / 100;
    for (const Material* material : materials_) {
      const bool powder = material->form_used() == Form::powder;
      const double mass = powder ? 1 + binder_share : 1;
      const double binder_cost = powder ? binder_share * scenario_.binder().price_per_t / 1000 : 0;
      result_.material.push_back(material->name);
      result_.mass.push_back(mass);
      result_.cost_per_kg.push_back((material->price_per_t + material->freight_per_t) / 1000 +
                                    binder_cost + scenario_.blending_fee_per_t() / 1000 * mass);
      result_.granule.push_back(material->form_used() == Form::granule);
      result_.enters.push_back(powder || result_.granule.back());
      result_.minimum_if_used.push_back(material->min_if_used_percent / 100);
    }
  }

  void read_total() {
    const Limits& total = scenario_.total_kg_per_ha();
    if (result_.basis == Basis::per_tonne) return;
    RuleId id{.kind = RuleKind::total, .side = RuleSide::exactly};
    if (total.exact()) return add(id, result_.mass, total.min, total.max);
    id.side = RuleSide::min;
    if (total.has_min()) add(id, result_.mass, total.min, infinity);
    id.side = RuleSide::max;
    if (total.has_max()) add(id, result_.mass, -infinity, total.max);
  }

  [[nodiscard]] double factor(const std::string& nutrient) const {
    for (const auto& [name, value] : scenario_.draft().granular_micronutrient_factors)
      if (name == nutrient) return value;
    return scenario_.draft().granular_micronutrient_factor.value_or(unstated_factor(nutrient));
  }

  void read_rates() {
    for (const Target& target : scenario_.rates()) {
      std::vector<double> all(materials_.size()), reached(materials_.size());
      for (std::size_t i = 0; i < all.size(); ++i) {
        all[i] = content_percent(*materials_[i], target.nutrient) / 100;
        const bool partly =
            materials_[i]->micronutrient_granule && is_micronutrient(target.nutrient);
        reached[i] = partly ? all[i] / factor(target.nutrient) : all[i];
      }
      for (const bool of_min : {true, false}) {
        if (of_min ? !target.limits.has_min() : !target.limits.has_max()) continue;
        add({RuleKind::rate, target.nutrient, {}, side_of(target.limits, of_min)},
            of_min ? reached : all, of_min ? target.limits.min : -infinity,
            of_min ? infinity : target.limits.max);
      }
    }
  }

  void read_grades() {
    for (const Target& target : scenario_.grades())
      add_homogeneous(
          {RuleKind::grade, target.nutrient, {}, {}}, target.limits,
          [&](std::size_t i, double limit) {
            return (content_percent(*materials_[i], target.nutrient) - limit * result_.mass[i]) /
                   100;
          });
  }

  void read_ratios() {
    for (const Ratio& ratio : scenario_.ratios())
      add_homogeneous({RuleKind::ratio, ratio.of, ratio.to, {}}, ratio.limits,
                      [&](std::size_t i, double limit) {
                        return (content_percent(*materials_[i], ratio.of) -
                                limit * content_percent(*materials_[i], ratio.to)) /
                               100;
                      });
  }

  void read_coating() {
    std::vector<double> row(materials_.size(), 0.0);
    bool powders = false;
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (!result_.enters[i]) continue;
      powders = powders || !result_.granule[i];
      row[i] = result_.granule[i] ? -scenario_.coating_max_percent() / 100 : result_.mass[i];
    }
    if (powders) add({.kind = RuleKind::coating, .side = RuleSide::max}, row, -infinity, 0);
  }

  void read_share(std::size_t i) {
    const Limits& share = materials_[i]->share_percent;
    add_homogeneous({RuleKind::share, materials_[i]->name, {}, {}}, share,
                    [&](std::size_t k, double limit) {
                      return (k == i ? 1 : 0) - limit / 100 * result_.mass[k];
                    });
  }

  /// kg of the material in all that will be made, held against the stock.
  void read_stock(std::size_t i) {
    if (!materials_[i]->stock_kg) return;
    std::vector<double> row(materials_.size(), 0.0);
    const double stock = *materials_[i]->stock_kg;
    const RuleId id{RuleKind::stock, materials_[i]->name, {}, {}};
    if (scenario_.make_hectares() && result_.basis == Basis::per_hectare) {
      row[i] = 1;
      add(id, row, -infinity, stock / *scenario_.make_hectares());
    } else if (scenario_.make_tonnes() && result_.basis == Basis::per_tonne) {
      row[i] = 1;
      add(id, row, -infinity, stock / *scenario_.make_tonnes());
    } else if (scenario_.make_tonnes()) {
      const double fraction = stock / (1000 * *scenario_.make_tonnes());
      for (std::size_t k = 0; k < row.size(); ++k)
        row[k] = (k == i ? 1 : 0) - fraction * result_.mass[k];
      add(id, row, -infinity, 0);
    }
  }

  void read_exclusions() {
    for (const Exclusion& exclusion : scenario_.exclusions()) {
      Apart apart{{RuleKind::exclusion, exclusion.family_a, exclusion.family_b, {}}, {}, {}};
      for (std::size_t i = 0; i < materials_.size(); ++i) {
        if (!result_.enters[i]) continue;
        if (materials_[i]->family == exclusion.family_a) apart.first.push_back(i);
        if (materials_[i]->family == exclusion.family_b) apart.second.push_back(i);
      }
      if (!apart.first.empty() && !apart.second.empty()) result_.apart.push_back(apart);
    }
  }

  const Scenario& scenario_;
  std::vector<const Material*> materials_;
  Reading result_;
};

}  // namespace

double Reading::total(const std::vector<double>& x) const {
  return std::inner_product(mass.begin(), mass.end(), x.begin(), 0.0);
}

double Reading::cost(const std::vector<double>& x) const {
  return std::inner_product(cost_per_kg.begin(), cost_per_kg.end(), x.begin(), 0.0);
}

RuleId least_of(const std::string& material) {
  return {RuleKind::minimum_if_used, material, {}, RuleSide::none};
}

RuleId bins_rule() { return {.kind = RuleKind::bins}; }

bool is_structural(const LinearRule& rule) {
  return rule.id.kind == RuleKind::total && rule.id.side == RuleSide::none;
}

Reading restricted_to(const Reading& reading, const std::set<RuleId>& ids) {
  Reading fewer = reading;
  std::erase_if(fewer.rules, [&](const LinearRule& rule) {
    return !is_structural(rule) && !ids.contains(rule.id);
  });
  std::erase_if(fewer.apart, [&](const Apart& apart) { return !ids.contains(apart.id); });
  for (std::size_t i = 0; i < fewer.size(); ++i)
    if (!ids.contains(least_of(fewer.material[i]))) fewer.minimum_if_used[i] = 0;
  if (!ids.contains(bins_rule())) fewer.bins = 0;
  return fewer;
}

Reading read(const Scenario& scenario) { return Reader(scenario).read(); }

}  // namespace leastwise::support
