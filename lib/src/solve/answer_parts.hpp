#pragma once
#include <leastwise/outcome.hpp>

#include <string_view>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// Options of the search for a call that may take as long as `limits` says from now on.
[[nodiscard]] solver::SearchOptions search_options(const SolveOptions& limits);

/// The same, and what the caller wants to be told of is counted: for calls on one thread.
[[nodiscard]] solver::SearchOptions counted_search_options(const SolveOptions& limits);

/// Whether a blend says how sure the limits of its label are, and which of them it far exceeds.
enum class LabelNotes {
  told,
  left_out,  ///< the limits in force are not those of the scenario
};

/// The blend of given amounts: everything that follows from them, but no prices of rules.
[[nodiscard]] Blend blend_of(const Scenario& scenario, const std::vector<double>& kg,
                             LabelNotes labels = LabelNotes::told);

/// What `kg` along Scenario::materials() supply, in `total` kg of product.
[[nodiscard]] std::vector<Supply> supply_of(const Scenario& scenario, const std::vector<double>& kg,
                                            double total);

/// The scenario's notes, and those that belong to this blend.
[[nodiscard]] std::vector<Note> notes_of(const Scenario& scenario, const std::vector<double>& kg,
                                         double total, LabelNotes labels = LabelNotes::told);

/// kg of each material of the scenario from the columns of a model.
[[nodiscard]] std::vector<double> kg_of(const Scenario& scenario, const model::Model& model,
                                        const std::vector<double>& x);

/// The column of a material; -1 when its form keeps it out.
[[nodiscard]] int column_of(const Scenario& scenario, const model::Model& model,
                            std::string_view material);

/// `search`, its blend held against the scenario's own rules as well.
[[nodiscard]] solver::SearchResult checked_search(const Scenario& scenario,
                                                  const model::Model& model,
                                                  const solver::SearchOptions& options);

inline constexpr std::string_view shown_is_proved = "what is shown is proved, the rest is missing";
inline constexpr std::string_view nothing_finished = "nothing was finished by then";

/// Of an answer that may be stopped: `anything` is whether there is something to show.
[[nodiscard]] constexpr std::string_view what_is_finished(bool anything) {
  return anything ? shown_is_proved : nothing_finished;
}

/// The ending when a search that should have found an optimum ended with `status`. An answer that
/// was stopped says by `finished` what there is to show.
[[nodiscard]] Outcome outcome_of(const Scenario& scenario, const model::Model& model,
                                 solver::SearchStatus status, const SolveOptions& limits,
                                 const solver::SearchOptions& options,
                                 std::string_view finished = shown_is_proved);

/// Throws: std::invalid_argument where prices depend on how much is bought, which `what` does not
/// know.
void require_one_price(const Scenario& scenario, std::string_view what);

/// Two costs count as one within this share of their size.
inline constexpr double same_cost = 1e-9;
[[nodiscard]] double cost_tolerance(double cost);

}  // namespace leastwise::solve
