#pragma once
#include <leastwise/rule_id.hpp>

#include <string>
#include <vector>

namespace leastwise {

/// One side of a rule as a fraction of two sums over the weighings of a load: with it a sheet
/// judges what is really weighed, as `check_weighed` does.
///
/// With g[i] grams of weighing i the rule comes to sum(of[i] g[i]) / sum(to[i] g[i]). Where the sum
/// below is 0 there is nothing to judge.
struct LoadRule {
  std::string rule{};                ///< `rate N min`; an `exactly` is two of these
  double limit = 0;                  ///< in `unit`
  LimitUnit unit = LimitUnit::none;  ///< of the limit and of the fraction
  bool at_least = true;              ///< else at most
  bool unless_none = false;          ///< holds as well where the sum above is 0
  std::vector<double> of{};          ///< one for each weighing
  std::vector<double> to{};          ///< one for each weighing
};

/// Between which masses of one weighing every rule is kept to within 1 %, the others as planned.
struct MassRange {
  double from_g = 0;  ///< 0: there may be none of it
  double to_g = 0;    ///< infinite: nothing limits it
};

}  // namespace leastwise
