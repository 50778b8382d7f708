#pragma once
#include <leastwise/alternatives.hpp>
#include <leastwise/answer_mark.hpp>
#include <leastwise/blend_indices.hpp>
#include <leastwise/catalogue.hpp>
#include <leastwise/chance_constraint.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/compatibility.hpp>
#include <leastwise/declare.hpp>
#include <leastwise/declared_analysis.hpp>
#include <leastwise/diagnostic.hpp>
#include <leastwise/draft.hpp>
#include <leastwise/formula.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/hazard.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/load.hpp>
#include <leastwise/load_stopped.hpp>
#include <leastwise/material.hpp>
#include <leastwise/micronutrient.hpp>
#include <leastwise/note.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/nutrient_cost.hpp>
#include <leastwise/outcome.hpp>
#include <leastwise/portion.hpp>
#include <leastwise/prepared.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/price_spread.hpp>
#include <leastwise/price_tier.hpp>
#include <leastwise/progress.hpp>
#include <leastwise/proof.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/question.hpp>
#include <leastwise/quote.hpp>
#include <leastwise/quote_terms.hpp>
#include <leastwise/render.hpp>
#include <leastwise/report.hpp>
#include <leastwise/risk.hpp>
#include <leastwise/rounding.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/run.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/season.hpp>
#include <leastwise/season_load.hpp>
#include <leastwise/season_plan.hpp>
#include <leastwise/solve_options.hpp>
#include <leastwise/stream.hpp>
#include <leastwise/tolerance.hpp>
#include <leastwise/toxic_element.hpp>
#include <leastwise/trial.hpp>
#include <leastwise/trial_application.hpp>
#include <leastwise/trial_check.hpp>
#include <leastwise/trial_design.hpp>
#include <leastwise/trial_factorial.hpp>
#include <leastwise/trial_field.hpp>
#include <leastwise/trial_field_work.hpp>
#include <leastwise/trial_hold.hpp>
#include <leastwise/trial_load.hpp>
#include <leastwise/trial_load_rule.hpp>
#include <leastwise/trial_mix.hpp>
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_recipe.hpp>
#include <leastwise/trial_report.hpp>
#include <leastwise/trial_site.hpp>
#include <leastwise/trial_spray.hpp>
#include <leastwise/unit_system.hpp>
#include <leastwise/verify.hpp>
#include <leastwise/version.hpp>
#include <leastwise/why.hpp>

/// Finds the cheapest granular fertilizer blend that obeys every rule, and says what each rule
/// costs.
///
/// Values in, values out: `Scenario` is a question, `formulate` answers it with a `Formulation`.
/// There is no global state, nothing to initialise or close, and nothing is printed. Units end the
/// names: `price_per_t` is currency per tonne, `percent` is by mass.
/// One effect reaches the process: with glibc, solving takes and frees a block of 4 MiB, so that
/// the allocator keeps up to twice as much memory for the next blocks instead of returning it to
/// the system (`mallopt(3)`, "dynamic mmap threshold"). A program that sets the thresholds itself
/// keeps its own.
/// Throws: std::bad_alloc, and what the entry of a function says under Throws.
/// Thread safety: every function is safe on any threads at once; values may be read by many.
namespace leastwise {}
