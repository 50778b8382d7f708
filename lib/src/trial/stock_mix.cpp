#include "trial/stock_mix.hpp"

#include <leastwise/micronutrient.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "trial/balances.hpp"
#include "trial/mass.hpp"
#include "trial/mix_steps.hpp"
#include "trial/remedies.hpp"

namespace leastwise::trial {
namespace {

constexpr int most_steps = 6;

/// One powder and how much of it each needy treatment wants in a load; 0 where none, or enough.
struct Powder {
  std::string name{};
  const Material* material = nullptr;
  std::vector<double> load_mg{};
};

/// Powders of one mix, in a fixed ratio.
struct Group {
  std::vector<Powder> powders{};

  [[nodiscard]] double load_mg(std::size_t n) const {
    double sum = 0;
    for (const auto& powder : powders) sum += powder.load_mg[n];
    return sum;
  }
};

double load_mg(const NeedyTreatment& needy, std::size_t i) {
  return needy.product->kg_per_ha[i] * needy.load_mg_per_kg_per_ha;
}

bool same_contents(const Material& a, const Material& b) {
  return std::ranges::equal(a.contains_percent, b.contains_percent,
                            [](const Content& x, const Content& y) {
                              return x.name == y.name && x.percent == y.percent;
                            });
}

std::vector<Powder> powders_of(const Trial& trial, const std::vector<NeedyTreatment>& needy) {
  std::vector<Powder> powders;
  for (std::size_t n = 0; n < needy.size(); ++n) {
    const auto materials = needy[n].scenario->materials();
    for (std::size_t i = 0; i < materials.size(); ++i) {
      const double mg = load_mg(needy[n], i);
      if (mg <= 0 || role_of(materials[i]) != Role::powder || !is_too_little(trial, mg)) continue;
      auto known = std::ranges::find_if(powders, [&](const Powder& powder) {
        return powder.name == materials[i].name && same_contents(*powder.material, materials[i]);
      });
      if (known == powders.end()) {
        powders.push_back({materials[i].name, &materials[i], std::vector<double>(needy.size(), 0)});
        known = powders.end() - 1;
      }
      known->load_mg[n] = mg;
    }
  }
  return powders;
}

/// Whether two powders stand in one ratio wherever either is wanted.
bool in_one_ratio(const Powder& a, const Powder& b) {
  double ratio = -1;
  for (std::size_t n = 0; n < a.load_mg.size(); ++n) {
    if (a.load_mg[n] <= 0 && b.load_mg[n] <= 0) continue;
    if (a.load_mg[n] <= 0 || b.load_mg[n] <= 0) return false;
    const double here = b.load_mg[n] / a.load_mg[n];
    if (ratio >= 0 && std::abs(here - ratio) > 1e-6 * ratio) return false;
    ratio = here;
  }
  return true;
}

std::vector<Group> grouped(const std::vector<Powder>& powders) {
  std::vector<Group> groups;
  for (const auto& powder : powders) {
    const auto known = std::ranges::find_if(
        groups, [&](const Group& group) { return in_one_ratio(group.powders.front(), powder); });
    if (known == groups.end()) {
      groups.push_back({{powder}});
    } else {
      known->powders.push_back(powder);
    }
  }
  return groups;
}

/// The micronutrient that a powder is for; empty where it carries none.
std::string element_in(const Material& powder) {
  for (const auto& micronutrient : micronutrients())
    if (content_percent(powder, micronutrient.element) >= 1) return micronutrient.element;
  return {};
}

/// `Cu`, `B+Mo`: what the powders are for; their first name where they carry no micronutrient.
std::string subject_of(const Group& group) {
  std::string subject;
  for (const auto& powder : group.powders) {
    const std::string element = element_in(*powder.material);
    if (!element.empty()) subject += (subject.empty() ? "" : "+") + element;
  }
  return subject.empty() ? group.powders.front().name : subject;
}

/// Plans one mix after the other; what one takes of a carrier is gone for the next.
class MixPlanner {
 public:
  MixPlanner(const Trial& trial, const std::vector<NeedyTreatment>& needy)
      : trial_(trial), needy_(needy), powders_(powders_of(trial, needy)) {
    plan_.uses.resize(needy.size());
    for (const auto& treatment : needy)
      given_.emplace_back(treatment.scenario->materials().size(), 0.0);
  }

  MixPlan plan() {
    for (const auto& group : grouped(powders_)) add(group);
    return std::move(plan_);
  }

 private:
  void add(const Group& group) {
    double fewest = 0;  // the smallest amount in any load
    for (std::size_t n = 0; n < needy_.size(); ++n) {
      const double mg = group.load_mg(n);
      if (mg > 0 && (fewest == 0 || mg < fewest)) fewest = mg;
    }
    const Dilution dilution = dilution_of(ample_mass_mg(trial_.balances(), fewest) / fewest);
    if (dilution.steps > most_steps) return;
    StockMix mix;
    mix.code = "mix " + subject_of(group) + "-" + std::to_string(plan_.mixes.size() + 1);
    if (dilution.steps > 0) choose_carrier(group, dilution, mix);
    std::vector<MixIngredient> ingredients;
    double all = 0;
    for (const auto& powder : group.powders) {
      double mg = 0;
      for (std::size_t n = 0; n < needy_.size(); ++n)
        mg += powder.load_mg[n] * static_cast<double>(needy_[n].loads);
      ingredients.push_back({powder.name, mg});
      all += mg;
    }
    make_steps(trial_.balances(), ingredients, dilution, all * dilution.factor(), mix);
    take(group, mix);
    plan_.mixes.push_back(std::move(mix));
  }

  void choose_carrier(const Group& group, const Dilution& dilution, StockMix& mix) {
    if (const auto name = carrier_in_loads(group, dilution)) {
      mix.carrier = *name;
      mix.carrier_in_load = true;
      for (std::size_t n = 0; n < needy_.size(); ++n) {
        const auto i = needy_[n].scenario->index_of(*name);
        if (i) given_[n][*i] += group.load_mg(n) * (dilution.factor() - 1);
      }
      return;
    }
    mix.carrier = trial_.carrier().empty() ? std::string(unnamed_carrier) : trial_.carrier();
  }

  /// The largest powder that every load of the group can give so much of.
  [[nodiscard]] std::optional<std::string> carrier_in_loads(const Group& group,
                                                            const Dilution& dilution) const {
    std::optional<std::string> best;
    double best_mg = 0;
    for (std::size_t n = 0; n < needy_.size(); ++n) {
      if (group.load_mg(n) <= 0) continue;
      const auto materials = needy_[n].scenario->materials();
      for (std::size_t i = 0; i < materials.size(); ++i) {
        const double mg = load_mg(needy_[n], i);
        if (role_of(materials[i]) != Role::powder || mg <= best_mg) continue;
        if (!all_can_give(group, dilution, materials[i].name)) continue;
        best = materials[i].name;
        best_mg = mg;
      }
      break;  // the others must have it too
    }
    return best;
  }

  [[nodiscard]] bool all_can_give(const Group& group, const Dilution& dilution,
                                  const std::string& name) const {
    for (std::size_t n = 0; n < needy_.size(); ++n) {
      const double mg = group.load_mg(n);
      if (mg <= 0) continue;
      const auto i = needy_[n].scenario->index_of(name);
      if (!i) return false;
      const double there = load_mg(needy_[n], *i) - given_[n][*i];
      // A tenth more than the nominal dilution: the mix as weighed may be a little thinner.
      const double left = there - mg * (dilution.factor() * 1.1 - 1);
      if (left <= 0 || is_too_little(trial_, left)) return false;
    }
    return true;
  }

  void take(const Group& group, const StockMix& mix) {
    double active = 0;
    for (const auto& part : mix.parts) active += part.carrier ? 0 : part.fraction;
    for (std::size_t n = 0; n < needy_.size(); ++n) {
      const double mg = group.load_mg(n);
      if (mg <= 0) continue;
      plan_.uses[n].push_back({plan_.mixes.size(), mg / active / needy_[n].load_mg_per_kg_per_ha});
    }
  }

  const Trial& trial_;
  const std::vector<NeedyTreatment>& needy_;
  std::vector<Powder> powders_;
  std::vector<std::vector<double>> given_{};  ///< mg per load, by needy treatment and material
  MixPlan plan_{};
};

}  // namespace

std::string subject_of(const Material& powder) {
  const std::string element = element_in(powder);
  return element.empty() ? powder.name : element;
}

bool is_too_little(const Trial& trial, double target_mg) {
  return target_mg < static_cast<double>(least_mass_mg(trial.balances(), target_mg)) * (1 - 1e-9);
}

MixPlan plan_mixes(const Trial& trial, const std::vector<NeedyTreatment>& needy) {
  return MixPlanner(trial, needy).plan();
}

Product with_carriers(const Scenario& scenario, Product product, const std::vector<MixUse>& uses,
                      const std::vector<StockMix>& mixes) {
  for (const auto& use : uses) {
    const StockMix& mix = mixes[use.mix];
    if (mix.carrier.empty() || mix.carrier_in_load) continue;
    const double kg = use.kg_per_ha * mix.parts.back().fraction;
    if (const auto i = scenario.index_of(mix.carrier)) {
      product.kg_per_ha[*i] += kg;
    } else {
      product.inert_kg_per_ha += kg;
    }
    product.binder_kg_per_ha += kg * scenario.binder().percent_of_powder / 100;
  }
  return product;
}

std::vector<std::int64_t> parts_of_mix(const StockMix& mix, std::int64_t mass_mg) {
  constexpr double fine = 1e12;
  std::vector<std::int64_t> weights;
  for (const auto& part : mix.parts)
    weights.push_back(static_cast<std::int64_t>(std::llround(part.fraction * fine)));
  return apportioned(mass_mg, weights);
}

std::vector<Weighing> taken_apart(const std::vector<Weighing>& load,
                                  const std::vector<StockMix>& mixes) {
  std::vector<Weighing> rows;
  const auto add = [&](Weighing row) {
    const auto known = std::ranges::find_if(rows, [&](const Weighing& other) {
      return other.material == row.material && other.role == row.role;
    });
    if (known == rows.end()) {
      rows.push_back(std::move(row));
    } else {
      known->mass_mg += row.mass_mg;
      known->target_g += row.target_g;
    }
  };
  for (const auto& weighing : load) {
    if (!weighing.mix) {
      add(weighing);
      continue;
    }
    const StockMix& mix = mixes[*weighing.mix];
    const auto masses = parts_of_mix(mix, weighing.mass_mg);
    for (std::size_t p = 0; p < masses.size(); ++p) {
      Weighing row = weighing;
      row.mix.reset();
      row.material = mix.parts[p].material;
      row.mass_mg = masses[p];
      row.target_g = weighing.target_g * mix.parts[p].fraction;
      add(std::move(row));
    }
  }
  return rows;
}

}  // namespace leastwise::trial
