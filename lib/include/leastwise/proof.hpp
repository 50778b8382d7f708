#pragma once
#include <leastwise/export.h>

#include <filesystem>
#include <optional>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

// All numbers of a proof are exact: whole numbers or fractions in lowest terms, spelled `p/q`.
// Rules carry the names of reports: `rate N min`, `share urea max`, `min if used urea`; in the
// per-tonne form `total exactly` says that a tonne is a tonne. Where rules share a name, the second
// is followed by ` (2)`.

/// How much of one material the blend takes.
struct ProofPortion {
  std::string material{};  ///< its name
  std::string kg{};        ///< per hectare or per tonne, by basis
};

/// A choice that splits all blends in two; its counterpart stands in another case of the proof.
struct ProofDecision {
  /// `family out`, counterpart `neighbours out`: nothing of this family, or nothing of any family
  /// kept apart from it. `material out`, counterparts `material at minimum` (it keeps its minimum
  /// if used) and `material in` (it holds a bin). `granules out`, counterpart `granules in`:
  /// nothing granular of this family, or at least one bin holds it.
  std::string choice{};
  std::string of{};  ///< the family or the material
};

/// What one rule counts for in the sum of rules.
struct ProofMultiplier {
  std::string rule{};   ///< its name in reports
  std::string value{};  ///< at least 0 for a minimum, at most 0 for a maximum
};

/// A case: every blend that agrees with `decisions`. The rules times their multipliers add up to
/// more than any such blend can reach for `bound` (its cost), or to a contradiction.
struct ProofCase {
  std::vector<ProofDecision> decisions{};      ///< what the case takes as given
  std::vector<ProofMultiplier> multipliers{};  ///< rules not named count 0
  std::string settled_by{};  ///< `cost`, `contradiction` or `bins` (more are held than there are)
  std::string bound{};       ///< least cost of the case; by how much a contradiction misses
};

/// A certificate in exact arithmetic: of the least cost, or that no blend obeys every rule.
struct Proof {
  std::string claim{};     ///< `optimal` or `infeasible`
  std::string scenario{};  ///< digest of what the scenario says
  std::string title{};     ///< of the scenario
  std::string currency{};  ///< a label
  std::string basis{};     ///< `per hectare` or `per tonne`
  std::string cost{};      ///< currency per hectare or per tonne; empty when infeasible
  std::vector<ProofPortion> portions{};  ///< empty when infeasible
  std::vector<ProofCase> cases{};        ///< together they cover every blend
};

/// The proof as JSON, format `leastwise-proof` version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const Proof& proof);

/// Reads what `to_json` writes; `name` stands for the file in messages. Unknown, missing and
/// repeated keys are errors, and so is a text that was changed after it was written.
/// Throws: InputError; LoadStopped once `stop` asks for it.
[[nodiscard]] LEASTWISE_API Proof parse_proof(std::string_view json,
                                              std::string_view name = "proof",
                                              std::stop_token stop = {});

/// Reads a proof from a file of at most 16 MiB. Throws: as `parse_proof`.
[[nodiscard]] LEASTWISE_API Proof load_proof(const std::filesystem::path& file,
                                             std::stop_token stop = {});

}  // namespace leastwise
