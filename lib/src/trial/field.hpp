#pragma once
#include <leastwise/trial_field.hpp>

namespace leastwise::trial {

/// A place in the grid of a site, from 1, counted from the corner of the first plot.
struct GridPlace {
  int row = 1;
  int column = 1;
};

/// `field` with the counts that it leaves open, for `replicates` of `plots` each. Rows are not
/// fewer than it takes, unless the field says so.
[[nodiscard]] FieldLayout completed(FieldLayout field, int plots, int replicates);

/// How many rows `replicates` of `plots` each take in a completed field.
[[nodiscard]] int rows_taken(const FieldLayout& field, int plots, int replicates);

/// Where plot `position` of a replicate stands; both count from 0.
[[nodiscard]] GridPlace place_of(const FieldLayout& field, int plots, int replicate, int position);

}  // namespace leastwise::trial
