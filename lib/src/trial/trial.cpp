#include <leastwise/trial.hpp>

#include <algorithm>

#include "trial/trial_builder.hpp"

namespace leastwise {

std::string_view to_string(MixerKind kind) { return kind == MixerKind::bucket ? "bucket" : "drum"; }

Trial::Trial(const TrialDraft& draft) { *this = TrialBuilder(draft, Reading{}).build(); }

std::optional<double> Trial::bag_kg(std::string_view material) const {
  std::optional<double> size;
  for (const auto& bag : bags_) {
    if (bag.material == material) return bag.kg;
    if (bag.material == "default") size = bag.kg;
  }
  return size;
}

double Trial::stock_kg(std::string_view material) const {
  const auto found = std::ranges::find(stock_, material, &StockItem::material);
  return found == stock_.end() ? 0 : found->kg;
}

}  // namespace leastwise
