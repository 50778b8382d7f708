#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/material.hpp>

#include <string>
#include <vector>

#include "support/generator.hpp"
#include "support/hidden_blend.hpp"
#include "support/random.hpp"

namespace leastwise::support {

/// Draws the rules of a scenario around a hidden blend that obeys them, then perhaps breaks one.
class RuleDrawing {
 public:
  RuleDrawing(Random& random, const std::vector<Material>& goods, const HiddenBlend& hidden,
              const ScenarioKind& kind, ScenarioDraft& draft)
      : random_(random), goods_(goods), hidden_(hidden), kind_(kind), draft_(draft) {}

  void draw();

 private:
  void draw_rates();
  void draw_total();
  void draw_grades();
  void draw_ratios();
  void draw_shares();
  void draw_minimum_if_used();
  void draw_stock();
  void draw_bins();
  void sabotage();
  void ask_for_micronutrients();
  void draw_sums();
  void draw_figures();
  [[nodiscard]] double share_percent(std::size_t i) const { return hidden_.kg_per_t[i] / 10; }

  Random& random_;
  const std::vector<Material>& goods_;
  const HiddenBlend& hidden_;
  const ScenarioKind& kind_;
  ScenarioDraft& draft_;
  double total_kg_per_ha_ = 0;  ///< of the hidden blend
};

}  // namespace leastwise::support
