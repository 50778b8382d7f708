#include <algorithm>

#include "verify/checker.hpp"

namespace leastwise::checker {
namespace {

using Choice = std::pair<std::string, std::string>;  // what, of whom

/// Every blend agrees with one of two counterparts: nothing of a family, or of all its enemies;
/// nothing of a material, or it is used and keeps its minimum; no bin for it, or at least one.
/// `a` comes before `b` in the alphabet.
bool are_counterparts(const Choice& a, const Choice& b) {
  static const std::set<Choice> pairs{{"family out", "neighbours out"},
                                      {"granules in", "granules out"},
                                      {"material at minimum", "material out"},
                                      {"material in", "material out"}};
  return a.second == b.second && pairs.contains({a.first, b.first});
}

/// Cases that agree on their first `depth` decisions: one with no more, or two halves by the next.
bool covers(const std::vector<const ProofCase*>& cases, std::size_t depth) {
  std::map<Choice, std::vector<const ProofCase*>> halves;
  for (const auto* one : cases) {
    if (one->decisions.size() == depth) return cases.size() == 1;
    halves[{one->decisions[depth].choice, one->decisions[depth].of}].push_back(one);
  }
  return halves.size() == 2 && depth < 10'000 &&
         are_counterparts(halves.begin()->first, halves.rbegin()->first) &&
         covers(halves.begin()->second, depth + 1) && covers(halves.rbegin()->second, depth + 1);
}

/// What follows from who holds a bin for certain. A family that holds one, though none of its
/// materials is certain, holds one more.
void count_bins(std::set<std::string> families, const std::set<std::size_t>& materials,
                const Rules& rules, Implied& implied) {
  for (const std::size_t j : materials) families.erase(rules.families[j]);
  const auto most = static_cast<std::size_t>(*rules.bins);
  implied.too_many_bins = materials.size() + families.size() > most;
  if (materials.size() + families.size() < most) return;
  for (std::size_t j = 0; j < rules.materials.size(); ++j)
    if (rules.granular[j] && !materials.contains(j) && !families.contains(rules.families[j]))
      implied.out.insert(j);
}

}  // namespace

// One kind of decision after the other: NOLINTNEXTLINE(readability-function-cognitive-complexity)
Implied implied_by(const std::vector<ProofDecision>& decisions, const Rules& rules) {
  Implied implied;
  std::set<std::string> families_in;
  std::set<std::size_t> materials_in;
  for (const auto& [choice, of] : decisions) {
    const bool granules = choice == "granules in" || choice == "granules out";
    const bool family = granules || choice == "family out" || choice == "neighbours out";
    const auto& names = family ? rules.families : rules.materials;
    std::vector<std::size_t> members;  // of the family, or the material itself
    for (std::size_t j = 0; j < names.size(); ++j)
      if (names[j] == of && (!granules || rules.granular[j])) members.push_back(j);
    if (members.empty()) throw "a decision is about '" + of + "', which is not in the scenario";
    if (choice == "family out" || choice == "material out" || choice == "granules out") {
      implied.out.insert(members.begin(), members.end());
    } else if (choice == "neighbours out") {
      for (std::size_t j = 0; j < names.size(); ++j)
        for (const auto& [a, b] : rules.apart)
          if ((a == of && b == names[j]) || (b == of && a == names[j])) implied.out.insert(j);
    } else if (choice == "material at minimum" &&
               std::ranges::count(rules.rules, members[0], &Rule::if_used) > 0) {
      implied.at_minimum.insert(members[0]);
    } else if (choice == "granules in" && rules.bins) {
      families_in.insert(of);
    } else if (choice == "material in" && rules.bins && rules.granular[members[0]]) {
      materials_in.insert(members[0]);
    } else {
      throw "a decision '" + choice + "' about '" + of + "' has no rule in the scenario";
    }
  }
  if (rules.bins) count_bins(families_in, materials_in, rules, implied);
  return implied;
}

bool covers_every_blend(const std::vector<ProofCase>& cases) {
  std::vector<const ProofCase*> all;
  for (const auto& one : cases) all.push_back(&one);
  return covers(all, 0);
}

}  // namespace leastwise::checker
