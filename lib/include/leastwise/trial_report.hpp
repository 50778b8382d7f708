#pragma once
#include <leastwise/export.h>
#include <leastwise/report.hpp>
#include <leastwise/trial_check.hpp>
#include <leastwise/trial_plan.hpp>

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// How much of a plan a report shows.
enum class PlanPart {
  everything,  ///< with a sheet for every batch and the labels
  overview,    ///< treatments, plots and purchases
};

/// The lists of a plan that a program or a spreadsheet may want by themselves.
enum class PlanList {
  batches,    ///< what to weigh; with an empty column `actual_g` to be filled in and checked
  plots,      ///< every plot and container with its label code, mass and place on the map
  stakes,     ///< what stands at each plot, of controls too
  nutrients,  ///< what each treatment achieves
  purchases,  ///< what to buy of each material
  recipes,    ///< kg/ha, share and cost of each material of each treatment
  totals,     ///< nutrients of each treatment over all its applications
};

/// The lists of a check of what was weighed.
enum class CheckList {
  batches,  ///< each nutrient and rule of each batch
  applied,  ///< each nutrient on each plot: one row each, for statistics
};

/// The plan as plain text, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const TrialPlan& plan,
                                                PlanPart part = PlanPart::everything,
                                                const ReportOptions& options = {});
/// How treatments were solved together, or which rules keep them apart: a few lines of plain text;
/// empty where the trial holds nothing.
[[nodiscard]] LEASTWISE_API std::string hold_text(const TrialPlan& plan);
/// The plan as JSON, report format version 1. Masses are in grams.
[[nodiscard]] LEASTWISE_API std::string to_json(const TrialPlan& plan,
                                                PlanPart part = PlanPart::everything);
/// One list of the plan as CSV (RFC 4180, LF).
[[nodiscard]] LEASTWISE_API std::string to_csv(const TrialPlan& plan, PlanList list);
/// A square code to scan: rows of modules, dark where true; empty: no code.
using ScanCode = std::vector<std::vector<bool>>;
/// Makes the code of a label. The library draws codes, whoever makes them.
using ScanCodeMaker = std::function<ScanCode(std::string_view label)>;

/// The plan as a page to print, black on white, one batch a sheet. Needs nothing but itself: its
/// sheets can be filled in on a screen, and hold what was weighed against the rules.
///
/// `codes` draws a code on each sheet, label and stake of a trial that asks for them.
[[nodiscard]] LEASTWISE_API std::string to_html(const TrialPlan& plan,
                                                PlanPart part = PlanPart::everything,
                                                Paper paper = Paper::a4,
                                                const ScanCodeMaker& codes = {});

/// What weighing came to, in the same formats.
[[nodiscard]] LEASTWISE_API std::string to_text(const WeighedCheck& check,
                                                const ReportOptions& options = {});
/// The same as JSON, report format version 1, ending in a newline. Masses are in grams.
[[nodiscard]] LEASTWISE_API std::string to_json(const WeighedCheck& check);
/// The same as CSV (RFC 4180, LF).
[[nodiscard]] LEASTWISE_API std::string to_csv(const WeighedCheck& check);
/// One list of the check; `plan` is what it was made of.
[[nodiscard]] LEASTWISE_API std::string to_csv(const WeighedCheck& check, const TrialPlan& plan,
                                               CheckList list);
/// The same as a page to print. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const WeighedCheck& check, Paper paper = Paper::a4);

}  // namespace leastwise
