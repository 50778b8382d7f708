#include "model/model.hpp"

#include <algorithm>
#include <map>
#include <string_view>

#include "model/units.hpp"

namespace leastwise::model {
namespace {

/// What a limit counts of a material: its content, less (a minimum) or more (a maximum) the safety
/// margin of a stated confidence. No content is below 0.
double safe_content(const Target& target, std::size_t i, RuleSide side) {
  const double content = target.content_percent[i];
  if (target.margin_percent.empty() || side == RuleSide::exactly) return content;
  return side == RuleSide::min ? std::max(content - target.margin_percent[i], 0.0)
                               : content + target.margin_percent[i];
}

/// Appends rows and rules to a model; the columns are there already.
class RowWriter {
 public:
  RowWriter(const Scenario& scenario, Model& model) : scenario_(scenario), model_(model) {}

  /// Opens a row with no bounds; coefficients are added by `coefficient`.
  int open() {
    model_.row_start.push_back(model_.row_start.back());
    model_.row_lower.push_back(-infinity);
    model_.row_upper.push_back(infinity);
    return model_.rows++;
  }

  void coefficient(int column, double value) {
    if (value != 0) drifting_coefficient(column, value);
  }

  /// A coefficient that moves with a limit: it has its entry even while it is zero.
  void drifting_coefficient(int column, double value) {
    model_.entries.push_back({column, value});
    ++model_.row_start.back();
  }

  /// A rule on the row opened last.
  Rule& rule(RuleKind kind, RuleSide side, std::size_t index, double limit, double rhs_rate) {
    return add({kind, side, index, limit, model_.rows - 1, -1, rhs_rate, {}, true});
  }

  /// A rule on a column's bounds.
  void bound(RuleKind kind, RuleSide side, std::size_t index, double limit, int column,
             double rhs_rate) {
    add({kind, side, index, limit, -1, column, rhs_rate, {}, true});
  }

  void rates();
  void grades();
  void ratios();
  void total();
  void coating();
  void shares();
  void stocks();
  void unasked();
  void ceilings();
  void minima();

 private:
  Rule& add(Rule rule) {
    model_.rules.push_back(std::move(rule));
    return model_.rules.back();
  }
  [[nodiscard]] std::size_t material(int column) const {
    return static_cast<std::size_t>(model_.material_of[static_cast<std::size_t>(column)]);
  }
  template <class Visit>
  void for_each_material(Visit visit) const {
    for (int j = 0; j < model_.columns; ++j)
      if (model_.material_of[static_cast<std::size_t>(j)] >= 0) visit(j, material(j));
  }
  void rate_row(const Target& target, bool reach, RuleSide side = RuleSide::exactly) {
    open();
    for_each_material([&](int j, std::size_t i) {
      coefficient(j, safe_content(target, i, side) / 100 * (reach ? target.reach[i] : 1));
    });
  }
  /// A homogeneous row: content minus limit times the total; drifts with the limit.
  void grade_row(const Target& target, RuleSide side, std::size_t index, double limit) {
    open();
    for_each_material(
        [&](int j, std::size_t i) { coefficient(j, safe_content(target, i, side) / 100); });
    times_total(rule(RuleKind::grade, side, index, limit, 0));
  }
  void ratio_row(const Ratio& ratio, RuleSide side, std::size_t index, double limit) {
    open();
    std::vector<Entry> drift;
    for_each_material([&](int j, std::size_t i) {
      if (ratio.of_percent[i] == 0 && ratio.to_percent[i] == 0) return;
      const double of = ratio.of_percent[i];
      const double to = limit * ratio.to_percent[i];
      drifting_coefficient(j, without_rounding(of - to, std::fabs(of) + std::fabs(to)) / 100);
      if (ratio.to_percent[i] != 0) drift.push_back({j, -ratio.to_percent[i] / 100});
    });
    rule(RuleKind::ratio, side, index, limit, 0).drift = std::move(drift);
  }
  /// Subtracts limit percent of the total from the row opened last.
  void times_total(Rule& rule) {
    drifting_coefficient(model_.total_column, -rule.limit / 100);
    rule.drift = {{model_.total_column, -0.01}};
  }

  const Scenario& scenario_;
  Model& model_;
};

/// Calls `visit(side, limit)` for each side that is limited; once for an equality.
template <class Visit>
void for_each_side(const Limits& limits, Visit visit) {
  if (limits.exact()) {
    visit(RuleSide::exactly, limits.min);
    return;
  }
  if (limits.has_min()) visit(RuleSide::min, limits.min);
  if (limits.has_max()) visit(RuleSide::max, limits.max);
}

void RowWriter::rates() {
  const auto targets = scenario_.rates();
  for (std::size_t k = 0; k < targets.size(); ++k) {
    const auto& target = targets[k];
    const bool reduced =
        std::any_of(target.reach.begin(), target.reach.end(), [](double e) { return e != 1; });
    if (!reduced && target.margin_percent.empty()) {
      rate_row(target, false);
      for_each_side(target.limits,
                    [&](RuleSide side, double limit) { rule(RuleKind::rate, side, k, limit, 1); });
    } else if (target.limits.exact()) {
      // Both sides of `exactly`, each with its own way of counting; one name.
      rate_row(target, true);
      rule(RuleKind::rate, RuleSide::min, k, target.limits.min, 1);
      rate_row(target, false);
      rule(RuleKind::rate, RuleSide::max, k, target.limits.max, 1);
      const auto last = static_cast<int>(model_.rules.size()) - 1;
      model_.rules[static_cast<std::size_t>(last)].partner = last - 1;
      model_.rules[static_cast<std::size_t>(last - 1)].partner = last;
    } else {
      for_each_side(target.limits, [&](RuleSide side, double limit) {
        rate_row(target, side == RuleSide::min, side);
        rule(RuleKind::rate, side, k, limit, 1);
      });
    }
  }
}

void RowWriter::grades() {
  const auto targets = scenario_.grades();
  for (std::size_t k = 0; k < targets.size(); ++k) {
    if (model_.basis == Basis::per_tonne) {
      const bool apart = !targets[k].margin_percent.empty();
      if (!apart) rate_row(targets[k], false);
      for_each_side(targets[k].limits, [&](RuleSide side, double limit) {
        if (apart) rate_row(targets[k], false, side);
        rule(RuleKind::grade, side, k, limit, kg_per_tonne / 100);
      });
    } else {
      for_each_side(targets[k].limits,
                    [&](RuleSide side, double limit) { grade_row(targets[k], side, k, limit); });
    }
  }
}

void RowWriter::ratios() {
  const auto ratios = scenario_.ratios();
  for (std::size_t k = 0; k < ratios.size(); ++k)
    for_each_side(ratios[k].limits,
                  [&](RuleSide side, double limit) { ratio_row(ratios[k], side, k, limit); });
}

void RowWriter::total() {
  if (model_.basis == Basis::per_tonne) return;
  for_each_side(scenario_.total_kg_per_ha(), [&](RuleSide side, double limit) {
    bound(RuleKind::total, side, 0, limit, model_.total_column, 1);
  });
}

void RowWriter::coating() {
  bool powders = false;
  for_each_material([&](int j, std::size_t) {
    powders = powders || !model_.is_granule[static_cast<std::size_t>(j)];
  });
  if (!powders) return;
  const double limit = scenario_.coating_max_percent();
  open();
  std::vector<Entry> drift;
  for_each_material([&](int j, std::size_t i) {
    if (model_.is_granule[static_cast<std::size_t>(j)]) {
      drifting_coefficient(j, -limit / 100);
      drift.push_back({j, -0.01});
    } else {
      coefficient(j, scenario_.mass_factor(i));
    }
  });
  rule(RuleKind::coating, RuleSide::max, 0, limit, 0).drift = std::move(drift);
}

void RowWriter::shares() {
  for (int j = 0; j < model_.columns; ++j) {
    if (model_.material_of[static_cast<std::size_t>(j)] < 0) continue;
    const std::size_t i = material(j);
    for_each_side(scenario_.materials()[i].share_percent, [&](RuleSide side, double limit) {
      if (side == RuleSide::min && limit == 0) return;
      if (side == RuleSide::max && limit >= 100) return;
      const bool left_out = side == RuleSide::max && scenario_.materials()[i].left_out;
      const RuleKind kind = left_out ? RuleKind::left_out : RuleKind::share;
      if (model_.basis == Basis::per_tonne) {
        bound(kind, side, i, limit, j, kg_per_tonne / 100);
      } else {
        open();
        coefficient(j, 1);
        times_total(rule(kind, side, i, limit, 0));
      }
    });
  }
}

void RowWriter::stocks() {
  const auto hectares = scenario_.make_hectares();
  const auto tonnes = scenario_.make_tonnes();
  if (!hectares && !tonnes) return;
  for (int j = 0; j < model_.columns; ++j) {
    if (model_.material_of[static_cast<std::size_t>(j)] < 0) continue;
    const std::size_t i = material(j);
    const auto& stock = scenario_.materials()[i].stock_kg;
    if (!stock) continue;
    if (hectares) {
      bound(RuleKind::stock, RuleSide::max, i, *stock, j, 1 / *hectares);
    } else if (model_.basis == Basis::per_tonne) {
      bound(RuleKind::stock, RuleSide::max, i, *stock, j, 1 / *tonnes);
    } else {
      open();
      coefficient(j, 1);
      auto& stock_rule = rule(RuleKind::stock, RuleSide::max, i, *stock, 0);
      drifting_coefficient(model_.total_column, -*stock / (kg_per_tonne * *tonnes));
      stock_rule.drift = {{model_.total_column, -1 / (kg_per_tonne * *tonnes)}};
    }
  }
}

void RowWriter::unasked() {
  for (const auto& unasked : scenario_.unasked())
    for_each_material([&](int j, std::size_t i) {
      if (i == unasked.material) bound(RuleKind::unasked, RuleSide::max, i, 0, j, 1);
    });
}

void RowWriter::ceilings() {
  const auto ceilings = scenario_.ceilings();
  for (std::size_t k = 0; k < ceilings.size(); ++k) {
    open();
    for_each_material(
        [&](int j, std::size_t i) { coefficient(j, ceilings[k].content_percent[i] / 100); });
    rule(RuleKind::ceiling, RuleSide::max, k, ceilings[k].kg_per_ha, 1);
  }
}

void RowWriter::minima() {
  for (int j = 0; j < model_.columns; ++j) {
    if (model_.material_of[static_cast<std::size_t>(j)] < 0) continue;
    const std::size_t i = material(j);
    const double percent = scenario_.materials()[i].min_if_used_percent;
    if (percent <= 0) continue;
    MinimumIfUsed minimum{j, i, percent, percent * (kg_per_tonne / 100), -1, true};
    if (model_.basis == Basis::per_hectare) {
      minimum.row = open();
      coefficient(j, 1);
      coefficient(model_.total_column, -percent / 100);
    }
    model_.minima.push_back(minimum);
  }
}

/// Whether a per-hectare model needs the total as a column of its own.
bool needs_total(const Scenario& scenario) {
  if (!scenario.grades().empty()) return true;
  if (scenario.total_kg_per_ha().has_min() || scenario.total_kg_per_ha().has_max()) return true;
  return std::any_of(scenario.materials().begin(), scenario.materials().end(),
                     [&](const Material& m) {
                       return m.share_percent.has_min() || m.share_percent.has_max() ||
                              m.min_if_used_percent > 0 || (m.stock_kg && scenario.make_tonnes());
                     });
}

void add_columns(const Scenario& scenario, Model& model) {
  std::map<std::string_view, int> family_index;
  const auto materials = scenario.materials();
  for (std::size_t i = 0; i < materials.size(); ++i) {
    if (!materials[i].can_enter()) continue;
    const auto [family, added] =
        family_index.try_emplace(materials[i].family, static_cast<int>(model.families.size()));
    if (added) model.families.emplace_back();
    model.families[static_cast<std::size_t>(family->second)].push_back(model.columns);
    model.family_of.push_back(family->second);
    model.material_of.push_back(static_cast<int>(i));
    model.is_granule.push_back(materials[i].form_used() == Form::granule);
    model.cost.push_back(scenario.cost_per_kg(i));
    ++model.columns;
  }
  const auto exclusions = scenario.exclusions();
  for (std::size_t k = 0; k < exclusions.size(); ++k) {
    const auto a = family_index.find(exclusions[k].family_a);
    const auto b = family_index.find(exclusions[k].family_b);
    if (a != family_index.end() && b != family_index.end())
      model.apart.push_back({a->second, b->second, k, true});
  }
}

/// The row that makes the total: exactly 1000 kg, or the definition of the total's column.
void add_total(const Scenario& scenario, Model& model, RowWriter& writer) {
  if (model.basis == Basis::per_hectare && !needs_total(scenario)) return;
  if (model.basis == Basis::per_hectare) {
    model.total_column = model.columns++;
    model.material_of.push_back(-1);
    model.is_granule.push_back(0);
    model.family_of.push_back(-1);
    model.cost.push_back(0);
  }
  model.total_row = writer.open();
  for (int j = 0; j < model.columns; ++j) {
    const int i = model.material_of[static_cast<std::size_t>(j)];
    writer.coefficient(j, i < 0 ? -1 : scenario.mass_factor(static_cast<std::size_t>(i)));
  }
}

}  // namespace

bool Model::either_or() const {
  return bins.has_value() ||
         std::any_of(minima.begin(), minima.end(), [](const auto& m) { return m.active; }) ||
         std::any_of(apart.begin(), apart.end(), [](const auto& a) { return a.active; });
}

Model build(const Scenario& scenario) {
  Model model;
  model.basis = scenario.basis();
  model.bins = scenario.bins();
  const std::size_t guess =
      scenario.materials().size() *
      (scenario.rates().size() + scenario.grades().size() + scenario.ratios().size() + 2);
  model.entries.reserve(guess);
  model.rules.reserve(
      2 * (scenario.rates().size() + scenario.grades().size() + scenario.ratios().size()) + 8);
  add_columns(scenario, model);
  RowWriter writer(scenario, model);
  add_total(scenario, model, writer);
  model.column_lower.assign(static_cast<std::size_t>(model.columns), 0);
  model.column_upper.assign(static_cast<std::size_t>(model.columns), infinity);
  writer.rates();
  writer.grades();
  writer.ratios();
  writer.total();
  writer.coating();
  writer.shares();
  writer.stocks();
  writer.unasked();
  writer.ceilings();
  writer.minima();
  refresh_bounds(model);
  return model;
}

}  // namespace leastwise::model
