#pragma once
#include <leastwise/trial_plan.hpp>

#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What was actually weighed into a batch.
struct Weighed {
  std::string batch{};  ///< code of the batch
  std::string material{};
  double mass_g = 0;
  Place place{};
};

/// A material of a batch: what should have been weighed and what was.
struct WeighedMaterial {
  std::string material{};
  std::int64_t planned_mg = 0;
  double weighed_g = 0;
  double deviation_percent = 0;  ///< of the plan; 0 where nothing was planned or weighed
};

/// One batch against its treatment's scenario.
struct BatchCheck {
  std::string batch{};
  std::string treatment{};
  double product_kg_per_ha = 0;  ///< the rate at which the product is spread
  std::vector<WeighedMaterial> materials{};
  std::vector<NutrientCheck> nutrients{};
  std::vector<RuleCheck> rules{};
  Verdict verdict = Verdict::holds;  ///< the worst of `rules`
  std::vector<Note> notes{};
};

struct WeighedCheck {
  std::string title{};
  std::vector<BatchCheck> batches{};       ///< in the order of the plan
  std::vector<std::string> not_weighed{};  ///< codes of planned batches without a line
  Verdict verdict = Verdict::holds;
};

/// Reads `batch,material,actual_g` (further columns are passed over, so the batch list may be
/// handed back with that column filled in; lines without an actual mass are passed over).
/// Throws: InputError.
[[nodiscard]] std::vector<Weighed> load_weighed(const std::filesystem::path& file);
[[nodiscard]] std::vector<Weighed> parse_weighed(std::string_view text,
                                                 std::string_view name = "weighed");

/// Holds what was weighed against the plan and against each rule of the scenarios.
///
/// Throws: InputError for a batch or a material that the plan does not have, a material weighed
/// twice for a batch, or a batch of which a planned material is missing.
[[nodiscard]] WeighedCheck check_weighed(const Trial& trial, const TrialPlan& plan,
                                         std::span<const Weighed> weighed);

}  // namespace leastwise
