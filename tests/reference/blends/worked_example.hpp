#pragma once
#include <leastwise/draft.hpp>

#include <map>
#include <string>
#include <vector>

namespace leastwise::support {

/// A blend worked out in a textbook, lecture or extension sheet. Masses are taken as kg whatever
/// the unit in print: only their proportions matter.
struct WorkedExample {
  struct Ingredient {
    std::string name{};
    std::vector<Content> contains_percent{};
    std::string published_amount{}, exact_amount{};  ///< empty where none is given
  };
  struct Target {
    std::string quantity{}, relation{}, value{};
  };

  std::string id{}, title{}, source{};
  std::vector<Ingredient> ingredients{};
  std::vector<Target> targets{};

  /// The target's value; 0 when there is none.
  [[nodiscard]] double target(const std::string& quantity) const;
};

/// All of tests/reference/data/worked_example*.csv, by identifier.
[[nodiscard]] std::map<std::string, WorkedExample> worked_examples();

/// A draft with the example's ingredients as granules at one price, and no rules yet. Each has a
/// property `amount of NAME` of 100 %.
[[nodiscard]] ScenarioDraft draft_of(const WorkedExample& example);

}  // namespace leastwise::support
