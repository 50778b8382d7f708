#include <leastwise/micronutrient.hpp>

#include <algorithm>

#include "exact/decimal.hpp"
#include "exact/exact_contents.hpp"
#include "exact/exact_units.hpp"
#include "verify/checker.hpp"

namespace leastwise::checker {
namespace {

using exact::decimal;
using Row = std::vector<Rational>;

/// Reads the rules off a scenario, one after the other.
class RuleReader {
 public:
  RuleReader(const Scenario& scenario, const StopCheck& stop)
      : scenario_(scenario), stop_(stop), per_tonne_(scenario.basis() == Basis::per_tonne) {
    read_materials();
    const Limits total = per_tonne_ ? Limits{1000, 1000} : scenario.total_kg_per_ha();
    add("total", total, of_rates_, [this](auto...) { return rules_.mass; });
    for (const auto& rate : scenario.rates()) add_target("rate ", rate, share_of(rate), false);
    for (const auto& grade : scenario.grades()) add_target("grade ", grade, 1, true);
    for (const auto& ratio : scenario.ratios()) add_ratio(ratio);
    add("coating", {.max = scenario.coating_max_percent()}, {}, [this](bool, Rational& limit) {
      const Rational share = std::exchange(limit, 0) / 100;
      return row(
          [&](std::size_t j) { return rules_.granular[j] ? Rational(-share) : rules_.mass[j]; });
    });
    for (std::size_t j = 0; j < index_.size(); ++j) add_material_rules(j);
    read_asked();
    for (std::size_t j = 0; j < index_.size(); ++j) add_unasked(j);
    for (const auto& element : micronutrients()) add_ceiling(element);
    for (const auto& pair : scenario.exclusions())
      rules_.apart.emplace_back(pair.family_a, pair.family_b);
    rules_.bins = scenario.bins();
  }

  [[nodiscard]] const Rules& rules() const { return rules_; }

 private:
  void read_materials() {
    for (std::size_t i = 0; i < scenario_.materials().size(); ++i) {
      const Material& material = scenario_.materials()[i];
      if (!material.can_enter()) continue;
      const bool powder = material.form_used() == Form::powder;
      const Rational glue = powder ? decimal(scenario_.binder().percent_of_powder) / 100 : 0;
      index_.push_back(i);
      contents_.push_back(exact::contents_of(scenario_, i));
      rules_.materials.push_back(material.name);
      rules_.families.push_back(material.family);
      rules_.granular.push_back(!powder);
      rules_.mass.push_back(1 + glue);
      rules_.cost.push_back((stated_.price(material.price_per_t) +
                             stated_.price(material.freight_per_t) +
                             glue * stated_.price(scenario_.binder().price_per_t) +
                             (1 + glue) * stated_.price(scenario_.blending_fee_per_t())) /
                            1000);
    }
  }

  template <class Coefficient>
  [[nodiscard]] Row row(Coefficient coefficient) const {
    stop_();
    Row values(index_.size());
    for (std::size_t j = 0; j < values.size(); ++j) values[j] = coefficient(j);
    return values;
  }
  [[nodiscard]] Rational fraction(std::size_t j, const std::string& nutrient) const {
    return exact::percent_of(contents_[j], nutrient) / 100;
  }

  [[nodiscard]] Row only(std::size_t j) const {
    return row([j](std::size_t k) { return Rational(k == j ? 1 : 0); });
  }

  /// Adds a rule for each limited side. `make` gives its row, told the side and the limit, which it
  /// may turn into that of the row; `measure` is of the limits, where they count in a unit.
  template <class Make>
  void add(const std::string& name, const Limits& limits, std::optional<Measure> measure,
           Make make) {
    ++scope_;
    for (const bool is_maximum : {false, true}) {
      if (is_maximum ? !limits.has_max() : !limits.has_min()) continue;
      const std::string full = name + (limits.exact() ? " exactly" : is_maximum ? " max" : " min");
      auto& [count, scope] = named_[full];
      // The two sides of `exactly` share one name.
      if (std::exchange(scope, scope_) != scope_) ++count;
      Rational limit = stated_(is_maximum ? limits.max : limits.min, measure);
      Row values = make(is_maximum, limit);
      const std::string own = count > 1 ? full + " (" + std::to_string(count) + ")" : full;
      rules_.rules.push_back({own, is_maximum, std::move(values), limit, {}});
    }
  }
  /// Turns a limit in percent of the product into one on `part`.
  [[nodiscard]] Row of_product(Row part, Rational& limit) const {
    if (!per_tonne_)
      for (std::size_t j = 0; j < part.size(); ++j) part[j] -= limit / 100 * rules_.mass[j];
    limit = per_tonne_ ? Rational(limit * 10) : Rational(0);
    return part;
  }

  /// A minimum counts what the crop can reach of the content less a safety margin; a maximum all
  /// that is there and the margin.
  void add_target(const char* kind, const Target& target, const Rational& reach, bool is_share) {
    const std::optional<Measure> measure = is_share ? std::nullopt : of_rates_;
    add(kind + target.nutrient, target.limits, measure, [&](bool is_maximum, Rational& limit) {
      Row values = row([&](std::size_t j) -> Rational {
        Rational share = fraction(j, target.nutrient);
        const std::size_t i = index_[j];
        if (const auto& margin = target.margin_percent; !margin.empty())
          share = std::max<Rational>(0, share + decimal(margin[i]) / (is_maximum ? 100 : -100));
        return is_maximum || !scenario_.materials()[i].micronutrient_granule ? share
                                                                             : share * reach;
      });
      return is_share ? of_product(std::move(values), limit) : values;
    });
  }
  /// The part of a dedicated micronutrient granule that reaches the crop.
  [[nodiscard]] Rational share_of(const Target& rate) const {
    return 1 / decimal(granular_factor(scenario_.draft(), rate.nutrient));
  }
  void add_ratio(const Ratio& ratio) {
    add("ratio " + ratio.of + ":" + ratio.to, ratio.limits, {}, [&](bool, Rational& limit) {
      const Rational times = std::exchange(limit, 0);
      return row([&](std::size_t j) -> Rational {
        return fraction(j, ratio.of) - times * fraction(j, ratio.to);
      });
    });
  }
  void add_material_rules(std::size_t j) {
    const Material& material = scenario_.materials()[index_[j]];
    Limits share = material.share_percent;
    if (material.left_out) {
      rules_.rules.push_back({"without " + material.name, true, only(j), Rational(0), {}});
      share.max = Limits{}.max;
    }
    add("share " + material.name, share, {},
        [&](bool, Rational& limit) { return of_product(only(j), limit); });
    const auto hectares = scenario_.make_hectares();
    const auto tonnes = scenario_.make_tonnes();
    if (material.stock_kg && (hectares || tonnes)) {  // the whole job takes what is at hand at most
      Rational limit = stated_(*material.stock_kg, Measure::mass);
      limit /= hectares ? stated_(*hectares, Measure::land) : stated_(*tonnes, Measure::goods);
      if (!hectares) limit /= 10;
      Row values = hectares ? only(j) : of_product(only(j), limit);
      rules_.rules.push_back({"stock " + material.name, true, std::move(values), limit, {}});
    }
    if (material.min_if_used_percent <= 0) return;
    Rational limit = decimal(material.min_if_used_percent);
    Row values = of_product(only(j), limit);
    rules_.rules.push_back({"min if used " + material.name, false, std::move(values), limit, j});
  }

  /// The names of which a rule wants more.
  void read_asked() {
    for (const auto targets : {scenario_.rates(), scenario_.grades()})
      for (const auto& target : targets)
        if (target.limits.min > 0 || target.guarantee.value_or(0) > 0)
          asked_.insert(target.nutrient);
    for (const auto& ratio : scenario_.ratios()) {
      if (ratio.limits.min > 0) asked_.insert(ratio.of);
      if (ratio.limits.has_max()) asked_.insert(ratio.to);
    }
  }
  /// A carrier of micronutrients stays out unless one of them, or a share of it, is asked for.
  void add_unasked(std::size_t j) {
    const Material& material = scenario_.materials()[index_[j]];
    const auto carried = carried_micronutrients(material);
    if (carried.empty() || material.left_out) return;
    const auto& use = scenario_.draft().use;
    const Limits& share = material.share_percent;
    const bool used = use && std::find(use->begin(), use->end(), material.name) != use->end();
    if (share.min > 0 || (used && (share.has_min() || share.has_max()))) {
      let_in_.insert(carried.begin(), carried.end());
      return;
    }
    for (const auto element : carried)
      if (asked_.count(std::string(element)) != 0) return;
    rules_.rules.push_back({"unasked " + material.name, true, only(j), Rational(0), {}});
  }
  /// Unless confirmed: a usual rate of what nothing asks for, and no more than the ceiling of what
  /// is asked for or has a stated maximum.
  void add_ceiling(const Micronutrient& element) {
    const auto& confirmed = scenario_.draft().confirm_high_rate;
    const auto& spread = scenario_.draft().product_kg_per_ha;
    if ((per_tonne_ && !spread) || std::ranges::count(confirmed, element.element) > 0) return;
    Row values = row([&](std::size_t j) { return fraction(j, element.element); });
    if (std::all_of(values.begin(), values.end(), [](const auto& value) { return value == 0; }))
      return;
    bool named = asked_.count(element.element) != 0 || let_in_.count(element.element) != 0;
    for (const auto& rate : per_tonne_ ? scenario_.grades() : scenario_.rates())
      named = named || (rate.nutrient == element.element && rate.limits.has_max());
    Rational most = decimal(named ? element.ceiling_kg_per_ha : element.granular.to);
    if (per_tonne_) most = most * 1000 / decimal(*spread);
    rules_.rules.push_back({"ceiling " + element.element, true, std::move(values), most, {}});
  }

  Rules rules_{};
  const Scenario& scenario_;
  const StopCheck& stop_;
  bool per_tonne_;
  exact::Stated stated_{scenario_.draft().units};
  std::optional<Measure> of_rates_ = per_tonne_ ? std::nullopt : exact::Stated::rate;
  std::vector<std::size_t> index_{};  ///< of each material that may enter, in the scenario
  std::vector<std::vector<exact::Content>> contents_{};
  std::set<std::string> asked_{};                       ///< by a rule
  std::set<std::string_view> let_in_{};                 ///< carried by what a share asks for
  std::map<std::string, std::pair<int, int>> named_{};  ///< how often, and by whom last
  int scope_ = 0;
};

}  // namespace

Rules rules_of(const Scenario& scenario, const StopCheck& stop) {
  return RuleReader(scenario, stop).rules();
}

}  // namespace leastwise::checker
