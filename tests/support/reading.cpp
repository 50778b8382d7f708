#include "support/reading.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <limits>
#include <numeric>

namespace leastwise::support {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

RuleSide side_of(const Limits& limits, bool of_min) {
  if (limits.exact()) return RuleSide::exactly;
  return of_min ? RuleSide::min : RuleSide::max;
}

/// Percent of a content, or of several that plus signs join.
double percent_of(const Material& good, const std::string& names) {
  double percent = 0;
  for (std::size_t from = 0; from <= names.size();) {
    const std::size_t to = std::min(names.find('+', from), names.size());
    const std::size_t first = names.find_first_not_of(' ', from);
    const std::size_t last = names.find_last_not_of(' ', to - 1);
    percent += content_percent(good, names.substr(first, last - first + 1));
    from = to + 1;
  }
  return percent;
}

/// kg per hectare of a micronutrient: what may come unasked, and what needs a confirmation.
struct Sane {
  const char* element;
  double unasked;
  double ceiling;
};
constexpr Sane sane_rates[] = {{"B", 1.2, 6},    {"Cu", 1.6, 20},  {"Zn", 6, 60},
                               {"Mn", 11.3, 90}, {"Fe", 20, 300},  {"Mo", 0.2, 1.4},
                               {"Co", 0.2, 1.5}, {"Ni", 0.1, 0.6}, {"Se", 0.01, 0.06}};
/// Between what is a trace and what is a purpose in the goods that scenarios are drawn from.
constexpr double dedicated_percent = 1;

/// A usual dressing of a macronutrient, kg per hectare.
struct Dressing {
  const char* nutrient;
  double kg;
};
constexpr Dressing dressings[] = {{"N", 100}, {"P2O5", 60}, {"K2O", 100}, {"S", 30}, {"MgO", 40}};

/// What a good is bought for, unless it feeds with a macronutrient first of all.
std::vector<Sane> purposes_of(const Material& good) {
  std::vector<Sane> purposes;
  for (const Sane& sane : sane_rates)
    if (content_percent(good, sane.element) >= dedicated_percent) purposes.push_back(sane);
  if (good.micronutrient_granule) return purposes;
  for (const Dressing& dressing : dressings) {
    const double content = content_percent(good, dressing.nutrient);
    bool harmless = content > 0;
    for (const Sane& sane : purposes)
      harmless =
          harmless && content_percent(good, sane.element) * dressing.kg <= sane.unasked * content;
    if (harmless) return {};
  }
  return purposes;
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
    read_guards();
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
        all[i] = percent_of(*materials_[i], target.nutrient) / 100;
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
            return (percent_of(*materials_[i], target.nutrient) - limit * result_.mass[i]) / 100;
          });
  }

  void read_ratios() {
    for (const Ratio& ratio : scenario_.ratios())
      add_homogeneous({RuleKind::ratio, ratio.of, ratio.to, {}}, ratio.limits,
                      [&](std::size_t i, double limit) {
                        return (percent_of(*materials_[i], ratio.of) -
                                limit * percent_of(*materials_[i], ratio.to)) /
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

  /// Nothing dedicated to a micronutrient without being asked, and no more of one than is sane.
  void read_guards() {
    const ScenarioDraft& draft = scenario_.draft();
    std::set<std::string> asked;
    for (const auto targets : {scenario_.rates(), scenario_.grades()})
      for (const Target& target : targets)
        if (target.limits.min > 0) asked.insert(target.nutrient);
    for (const Ratio& ratio : scenario_.ratios()) {
      if (ratio.limits.min > 0) asked.insert(ratio.of);
      if (ratio.limits.has_max()) asked.insert(ratio.to);
    }
    std::set<std::string> named = asked;
    for (std::size_t i = 0; i < materials_.size(); ++i) {
      const Material& good = *materials_[i];
      if (!result_.enters[i] || good.left_out) continue;
      const auto purposes = purposes_of(good);
      if (purposes.empty()) continue;
      const bool wanted = std::any_of(purposes.begin(), purposes.end(), [&](const Sane& sane) {
        return asked.count(sane.element) != 0;
      });
      const Limits& share = good.share_percent;
      const bool by_share =
          share.min > 0 ||
          (draft.use && std::count(draft.use->begin(), draft.use->end(), good.name) > 0 &&
           (share.has_min() || share.has_max()));
      if (by_share)
        for (const Sane& sane : purposes) named.insert(sane.element);
      if (by_share || wanted) continue;
      std::vector<double> row(materials_.size(), 0.0);
      row[i] = 1;
      add({RuleKind::unasked, good.name, {}, {}}, row, -infinity, 0);
    }
    if (result_.basis == Basis::per_hectare)
      for (const Sane& sane : sane_rates) read_ceiling(sane, named.count(sane.element) != 0);
  }

  void read_ceiling(const Sane& sane, bool named) {
    const auto& confirmed = scenario_.draft().confirm_high_rate;
    if (std::count(confirmed.begin(), confirmed.end(), sane.element) > 0) return;
    for (const Target& target : scenario_.rates())
      if (target.nutrient == sane.element && target.limits.has_max()) named = true;
    const double most = named ? sane.ceiling : sane.unasked;
    std::vector<double> row(materials_.size());
    bool any = false;
    for (std::size_t i = 0; i < row.size(); ++i) {
      row[i] = content_percent(*materials_[i], sane.element) / 100;
      any = any || (result_.enters[i] && row[i] > 0);
    }
    if (any) add({RuleKind::ceiling, sane.element, {}, {}}, row, -infinity, most);
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
