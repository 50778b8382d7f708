#pragma once
#include <leastwise/export.h>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What was actually weighed into a batch.
struct Weighed {
  std::string batch{};     ///< code of the batch, or of a step of a stock mix
  std::string material{};  ///< its name
  double mass_g = 0;       ///< as the balance showed it
  Place place{};           ///< in the list, for messages
  std::string lot{};       ///< of the material, as written down; may be empty
  std::string initials{};  ///< of who weighed; may be empty
  std::string plan{};      ///< fingerprint of the plan the list was written for; may be empty
};

/// A material of a batch: what should have been weighed and what was.
struct WeighedMaterial {
  std::string material{};        ///< its name
  std::int64_t planned_mg = 0;   ///< as on the batch's sheet
  double weighed_g = 0;          ///< as reported
  double deviation_percent = 0;  ///< of the plan; 0 where nothing was planned or weighed
  std::string lot{};             ///< as written down
  std::string initials{};        ///< as written down
};

/// What must still go into a batch.
struct Addition {
  std::string material{};    ///< its name
  std::int64_t mass_mg = 0;  ///< to add; a multiple of the balance's readability
  std::string balance{};     ///< its name
};

/// How a batch that breaks a rule can be saved before any of it is packed.
///
/// With k the largest ratio of weighed to planned, every other material is brought to k times its
/// plan: the load grows by k and has the planned composition again.
struct Rescue {
  bool possible = false;              ///< false: discard the batch
  std::vector<Addition> additions{};  ///< in the order of the batch's sheet
  double load_g = 0;                  ///< the batch then
  std::string text{};                 ///< what to do, in plain words
};

/// One batch against its treatment's scenario.
struct BatchCheck {
  std::string batch{};                       ///< its code
  std::string treatment{};                   ///< its name
  double product_kg_per_ha = 0;              ///< the rate at which the product is spread
  std::vector<WeighedMaterial> materials{};  ///< in the order of the batch's sheet
  std::vector<NutrientCheck> nutrients{};    ///< by what was weighed
  std::vector<RuleCheck> rules{};            ///< every rule of the treatment's scenario
  Verdict verdict = Verdict::broken;         ///< the worst of `rules`
  std::optional<Rescue> rescue{};            ///< where a rule is broken
  std::vector<Note> notes{};                 ///< what to mind
};

/// A step of a stock mix against its sheet.
struct MixCheck {
  std::string batch{};                       ///< code of the step
  std::string mix{};                         ///< code of the mix
  std::vector<WeighedMaterial> materials{};  ///< in the order of its sheet
};

/// A nutrient on a plot.
struct AppliedNutrient {
  std::string nutrient{};                     ///< its name
  double planned_kg_per_ha = 0;               ///< by the treatment
  std::optional<double> applied_kg_per_ha{};  ///< by what was weighed; nothing: not known
  std::optional<double> deviation_percent{};  ///< of the plan
};

/// What a plot got, by the batches its packs were filled from.
struct AppliedPlot {
  std::size_t plot = 0;                      ///< into `TrialPlan::plots`
  std::string code{};                        ///< of the plot
  std::vector<std::string> batches{};        ///< codes, in order
  std::vector<std::string> lots{};           ///< `urea L104`, as written down for those batches
  std::vector<AppliedNutrient> nutrients{};  ///< of the treatment; a control has those of the trial
  bool known = false;                        ///< every one of `batches` was weighed
};

/// Everything that was weighed, against the plan.
struct WeighedCheck {
  std::string title{};                     ///< of the trial
  std::vector<BatchCheck> batches{};       ///< in the order of the plan
  std::vector<MixCheck> mixes{};           ///< stock mixes that were weighed, step by step
  std::vector<std::string> not_weighed{};  ///< codes of planned batches without a line
  std::vector<AppliedPlot> applied{};      ///< every plot of the trial, in its order
  Verdict verdict = Verdict::broken;       ///< the worst of all batches
};

/// Reads `batch,material,actual_g`, and `lot`, `initials` and `plan` where they are (further
/// columns are passed over, so the batch list may be handed back with its columns filled in; lines
/// without an actual mass are passed over). Fields are separated by commas; or by semicolons, as
/// spreadsheets write them where the comma is the decimal sign, which masses then may have.
/// Throws: InputError.
[[nodiscard]] LEASTWISE_API std::vector<Weighed> load_weighed(const std::filesystem::path& file);
/// The same from text; `name` stands for the file in messages. Throws: InputError.
[[nodiscard]] LEASTWISE_API std::vector<Weighed> parse_weighed(std::string_view text,
                                                               std::string_view name = "weighed");

/// Holds what was weighed against the plan and against each rule of the scenarios.
///
/// Where the steps of a stock mix were weighed, what they hold counts, else what their sheets say.
/// Throws: InputError for a list that states another plan, for a batch or a material that the plan
/// does not have, a material weighed twice for a batch, or a batch of which a planned material is
/// missing.
[[nodiscard]] LEASTWISE_API WeighedCheck check_weighed(const Trial& trial, const TrialPlan& plan,
                                                       std::span<const Weighed> weighed);

}  // namespace leastwise
