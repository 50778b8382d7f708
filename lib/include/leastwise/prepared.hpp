#pragma once
#include <leastwise/export.h>
#include <leastwise/formulate.hpp>
#include <leastwise/scenario.hpp>

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace leastwise {

/// What a question wants different from a scenario; what it does not name stays.
struct WhatIf {
  /// A material at another price.
  struct Price {
    std::string material{};  ///< its name
    double price_per_t = 0;  ///< currency per tonne, as `Scenario::with_price` takes it
  };
  /// A rule at another limit.
  struct Limit {
    RuleId rule{};     ///< one that the scenario states, as answers and conflicts name it
    double limit = 0;  ///< in the unit that `limit_unit` gives for its kind
  };
  std::vector<Price> prices{};         ///< each material once
  std::vector<Limit> limits{};         ///< each rule once
  std::vector<std::string> without{};  ///< materials that cannot be had: at most 0 % of them
};

/// A scenario kept ready for many questions that differ from it a little.
///
/// An answer is the one that `formulate(changed(change))` gives, to the last byte of its reports.
/// It comes sooner: neither the scenario nor its model is made anew for a price, and the dense
/// kernel solves the linear program wherever its optimum proves to be the only one. A limit or a
/// material that cannot be had is checked like any scenario, which takes most of the time then.
///
/// Copies share what is kept. Thread safety: every member is safe on any threads at once.
class PreparedBlend {
 public:
  /// Keeps a copy of `scenario`.
  LEASTWISE_API explicit PreparedBlend(Scenario scenario);

  /// As it was prepared.
  [[nodiscard]] LEASTWISE_API const Scenario& scenario() const;

  /// The scenario with `change` made.
  ///
  /// Throws: std::out_of_range for a material, or a rule, that the scenario does not have;
  /// std::invalid_argument for a price as `Scenario::with_price` does, and for a rule without a
  /// limit to move; InputError for a limit that a scenario may not have, as one that crosses its
  /// partner.
  [[nodiscard]] LEASTWISE_API Scenario changed(const WhatIf& change) const;

  /// The answer to the scenario with `change` made. Throws: as `changed`.
  [[nodiscard]] LEASTWISE_API Formulation formulate(const WhatIf& change = {},
                                                    const SolveOptions& options = {}) const;
  /// The same with one price changed.
  [[nodiscard]] LEASTWISE_API Formulation with_price(std::string material, double price_per_t,
                                                     const SolveOptions& options = {}) const;
  /// The same with one limit moved.
  [[nodiscard]] LEASTWISE_API Formulation with_limit(RuleId rule, double limit,
                                                     const SolveOptions& options = {}) const;
  /// The same without one material.
  [[nodiscard]] LEASTWISE_API Formulation without(std::string material,
                                                  const SolveOptions& options = {}) const;

 private:
  class Kept;
  std::shared_ptr<Kept> kept_;
};

/// The answers to many questions, in the order of `changes`, on `threads` threads (0: as many as
/// the machine has). The number of threads changes nothing but the time; a time limit in `options`
/// holds for each question, and `options.progress` is not told.
///
/// Throws: as `PreparedBlend::changed`, for the first change that a thread finds at fault.
[[nodiscard]] LEASTWISE_API std::vector<Formulation> formulate_many(
    const PreparedBlend& prepared, std::span<const WhatIf> changes, unsigned threads = 0,
    const SolveOptions& options = {});

}  // namespace leastwise
