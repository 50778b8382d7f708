#pragma once
#include <leastwise/export.h>
#include <leastwise/trial_plan.hpp>

#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What was actually weighed into a batch.
struct Weighed {
  std::string batch{};     ///< code of the batch
  std::string material{};  ///< its name
  double mass_g = 0;       ///< as the balance showed it
  Place place{};           ///< in the list, for messages
};

/// A material of a batch: what should have been weighed and what was.
struct WeighedMaterial {
  std::string material{};        ///< its name
  std::int64_t planned_mg = 0;   ///< as on the batch's sheet
  double weighed_g = 0;          ///< as reported
  double deviation_percent = 0;  ///< of the plan; 0 where nothing was planned or weighed
};

/// One batch against its treatment's scenario.
struct BatchCheck {
  std::string batch{};                       ///< its code
  std::string treatment{};                   ///< its name
  double product_kg_per_ha = 0;              ///< the rate at which the product is spread
  std::vector<WeighedMaterial> materials{};  ///< in the order of the batch's sheet
  std::vector<NutrientCheck> nutrients{};    ///< by what was weighed
  std::vector<RuleCheck> rules{};            ///< every rule of the treatment's scenario
  Verdict verdict = Verdict::holds;          ///< the worst of `rules`
  std::vector<Note> notes{};                 ///< what to mind
};

/// Everything that was weighed, against the plan.
struct WeighedCheck {
  std::string title{};                     ///< of the trial
  std::vector<BatchCheck> batches{};       ///< in the order of the plan
  std::vector<std::string> not_weighed{};  ///< codes of planned batches without a line
  Verdict verdict = Verdict::holds;        ///< the worst of all batches
};

/// Reads `batch,material,actual_g` (further columns are passed over, so the batch list may be
/// handed back with that column filled in; lines without an actual mass are passed over).
/// Throws: InputError.
[[nodiscard]] LEASTWISE_API std::vector<Weighed> load_weighed(const std::filesystem::path& file);
/// The same from text; `name` stands for the file in messages. Throws: InputError.
[[nodiscard]] LEASTWISE_API std::vector<Weighed> parse_weighed(std::string_view text,
                                                               std::string_view name = "weighed");

/// Holds what was weighed against the plan and against each rule of the scenarios.
///
/// Throws: InputError for a batch or a material that the plan does not have, a material weighed
/// twice for a batch, or a batch of which a planned material is missing.
[[nodiscard]] LEASTWISE_API WeighedCheck check_weighed(const Trial& trial, const TrialPlan& plan,
                                                       std::span<const Weighed> weighed);

}  // namespace leastwise
