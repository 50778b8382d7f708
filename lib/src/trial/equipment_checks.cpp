#include <algorithm>
#include <cmath>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

constexpr Range capacity_range{0, 1e6, true, "kg"};
constexpr Range volume_range{0, 1e6, true, "litres"};
constexpr Range readability_range{0, 1e5, true, "g"};

/// Whether a readability is a whole number of milligrams, so that masses can be exact.
bool is_whole_milligrams(double grams) {
  const double mg = grams * 1000;
  return mg >= 1 - 1e-6 && std::abs(mg - std::round(mg)) < 1e-6 * mg;
}

}  // namespace

void TrialBuilder::resolve_equipment() {
  constexpr Range spare_range{0, 100, false, "percent"};
  constexpr Range density_range{0.5, 3, false, "kg per litre"};
  if (checks_.number("spare_percent", "the spare", draft_.spare_percent, spare_range)) {
    trial_.spare_percent_ = draft_.spare_percent;
  }
  if (draft_.binder_density_kg_per_l) {
    checks_.number("binder_density_kg_per_l", "the density of the binder",
                   *draft_.binder_density_kg_per_l, density_range);
  }
  trial_.binder_density_ = draft_.binder_density_kg_per_l;
  check_mixers();
  check_containers();
  check_balances();
  check_bags();
  check_stock();
  constexpr Range sample_range{0, 1e5, false, "g"};
  if (checks_.number("sample_g", "the sample", draft_.sample_g, sample_range))
    trial_.sample_g_ = draft_.sample_g;
  trial_.stock_ = draft_.stock;
  trial_.mixers_ = draft_.mixers;
  trial_.containers_ = draft_.containers;
  trial_.balances_ = draft_.balances;
  trial_.bags_ = draft_.bags;
}

void TrialBuilder::check_capacity(const std::optional<double>& kg,
                                  const std::optional<double>& litres, const std::string& path,
                                  std::string_view what) {
  if (diagnostics_.touched(path)) return;
  if (!kg && !litres) {
    diagnostics_.error(codes::missing_key, path,
                       std::string(what) +
                           " must have a capacity, found none; add capacity_kg or capacity_litres");
    return;
  }
  const std::string capacity = "the capacity of " + std::string(what);
  if (kg) checks_.number(below(path, "capacity_kg"), capacity, *kg, capacity_range);
  if (litres) checks_.number(below(path, "capacity_litres"), capacity, *litres, volume_range);
}

void TrialBuilder::check_mixers() {
  constexpr std::string_view list = "equipment.mixers";
  if (draft_.mixers.empty() && !diagnostics_.touched(list)) {
    diagnostics_.error(codes::missing_key, std::string(list),
                       "a trial must have a mixer, found none; add mixers under equipment");
  }
  std::map<std::string, std::string> seen;
  for (const auto& mixer : draft_.mixers) {
    const std::string path = below(list, mixer.name);
    checks_.name(path, "the name of a mixer", mixer.name);
    check_twice(seen, mixer.name, path, codes::duplicate_name, "a mixer");
    check_capacity(mixer.capacity_kg, mixer.capacity_litres, path, "a mixer");
  }
}

void TrialBuilder::check_containers() {
  std::map<std::string, std::string> seen;
  for (const auto& container : draft_.containers) {
    const std::string path = below("equipment.containers", container.name);
    checks_.name(path, "the name of a container", container.name);
    check_twice(seen, container.name, path, codes::duplicate_name, "a container");
    check_capacity(container.capacity_kg, container.capacity_litres, path, "a container");
  }
}

void TrialBuilder::check_balances() {
  constexpr std::string_view list = "equipment.balances";
  if (draft_.balances.empty() && !diagnostics_.touched(list)) {
    diagnostics_.error(codes::missing_key, std::string(list),
                       "a trial must have a balance, found none; add balances under equipment");
  }
  std::map<std::string, std::string> seen;
  for (const auto& balance : draft_.balances) {
    const std::string path = below(list, balance.name);
    checks_.name(path, "the name of a balance", balance.name);
    check_twice(seen, balance.name, path, codes::duplicate_name, "a balance");
    if (diagnostics_.touched(path)) continue;
    const std::string readability = below(path, "readability_g");
    bool good = checks_.number(below(path, "capacity_kg"), "the capacity of a balance",
                               balance.capacity_kg, capacity_range);
    good = checks_.number(readability, "the readability of a balance", balance.readability_g,
                          readability_range) &&
           good;
    if (good && !is_whole_milligrams(balance.readability_g)) {
      diagnostics_.error(codes::out_of_range, readability,
                         "the readability of a balance must be a whole number of milligrams, such "
                         "as 0.1 g, found " +
                             number_text(balance.readability_g) + " g");
      good = false;
    }
    if (good && balance.readability_g > balance.capacity_kg * 10) {  // 1 % of the capacity
      diagnostics_.error(
          codes::out_of_range, readability,
          "the readability of a balance must be at most a hundredth of its capacity, " +
              number_text(balance.capacity_kg) + " kg, found " +
              number_text(balance.readability_g) + " g");
    }
  }
}

void TrialBuilder::check_stock() {
  std::map<std::string, std::string> seen;
  for (const auto& item : draft_.stock) {
    const std::string path = below("stock_kg", item.material);
    check_twice(seen, item.material, path, codes::duplicate_name, "a stock");
    checks_.number(path, "the stock", item.kg, stock_range);
  }
}

void TrialBuilder::check_bags() {
  std::map<std::string, std::string> seen;
  for (const auto& bag : draft_.bags) {
    const std::string path = below("bags_kg", bag.material);
    check_twice(seen, bag.material, path, codes::duplicate_name, "a bag size");
    checks_.number(path, "the size of a bag", bag.kg, capacity_range);
  }
}

}  // namespace leastwise
