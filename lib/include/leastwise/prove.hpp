#pragma once
#include <leastwise/export.h>
#include <leastwise/formulate.hpp>
#include <leastwise/proof.hpp>

#include <optional>
#include <string>

namespace leastwise {

/// An answer with its proof.
struct ProvenFormulation {
  Formulation answer;            ///< as `formulate` gives it
  std::optional<Proof> proof{};  ///< empty when there is none
  std::string why_no_proof{};    ///< empty when there is one
};

/// `formulate`, then a proof of its answer in exact arithmetic, checked by `verify`.
///
/// The proof takes every number as the shortest decimal that reads back as the same double: the
/// number as written, for numbers of up to 15 significant digits; under `units: us` it takes the
/// decimal as written there times the exact factor. Its blend is the exact optimum,
/// and agrees with the answer to the last digits of a double. An answer that the proof contradicts
/// is not given: it becomes `StopCause::numerical`.
/// Throws: std::bad_alloc only. Thread safety and determinism: as `formulate`.
[[nodiscard]] LEASTWISE_API ProvenFormulation
formulate_with_proof(const Scenario& scenario, const SolveOptions& options = {});

}  // namespace leastwise
