#pragma once
#include <leastwise/compatibility.hpp>
#include <leastwise/material.hpp>
#include <leastwise/scenario.hpp>

#include <span>
#include <string>
#include <utility>
#include <vector>

#include "chemistry/hazard/hazards.hpp"

namespace leastwise {

/// Two families in alphabetical order, so that a pair has one spelling.
using FamilyPair = std::pair<std::string, std::string>;
[[nodiscard]] FamilyPair family_pair(const std::string& a, const std::string& b);

/// An oxidizer feeds a fire. Doubt counts as yes.
[[nodiscard]] bool is_oxidizer(const Material& material);

/// The natures of `scenario.materials()`, told once when it was built.
[[nodiscard]] std::span<const Nature> natures_of(const Scenario& scenario);

/// What is known of all materials of one family that can enter, taken together.
struct FamilyNature {
  std::string family{};
  Nature nature{};
  /// Along `nature.hazards`: the material that shows each hazard first.
  std::vector<std::string> shown_by{};
};

/// One for each family, sorted by its name. `natures` runs along `materials`.
[[nodiscard]] std::vector<FamilyNature> natures_of_families(std::span<const Material> materials,
                                                            std::span<const Nature> natures);

/// What keeps two families apart, if anything does.
struct FamilyRule {
  Compatibility level = Compatibility::compatible;
  std::string reason{};
  std::string source{};    ///< publication, or `from memory`
  bool known = false;      ///< the table speaks of the pair, or a hazard does
  bool burns = false;      ///< fire or explosion: never lifted
  bool dangerous = false;  ///< burns, explodes or gives off gas: not lifted for a trial
};

/// The strictest of what the table says of the families that the materials show, and of what their
/// hazards do to each other.
[[nodiscard]] FamilyRule rule_between(const FamilyNature& a, const FamilyNature& b);

/// What a scenario would have to say to lift a rule between two families that its `reason` lets
/// stand; empty when nothing lifts it.
[[nodiscard]] std::string way_to_lift(const FamilyPair& pair, const FamilyRule& rule);

/// `reason; compatible: [[a, b]] under compatibility lifts the rule, knowingly`, or that nothing
/// lifts it. `in_trial`: who stands over the mixer did not lift it.
[[nodiscard]] std::string with_way_to_lift(const Exclusion& exclusion, bool in_trial);

/// Adds a caution for each of the materials in one blend on which neither the table nor the
/// scenario has any rule.
void add_silent_cautions(const Scenario& scenario, const std::vector<const Material*>& used,
                         std::vector<Note>& notes);

}  // namespace leastwise
