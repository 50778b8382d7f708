#pragma once
#include <vector>

#include "trial/random_order.hpp"

namespace leastwise::trial {

/// A square of numbers from 0, each once in every row and every column.
using LatinSquare = std::vector<std::vector<std::size_t>>;

/// A Latin square drawn at random.
///
/// Up to 6 x 6 a reduced square is drawn from all there are; then rows, columns and numbers are
/// put in random order, so that every Latin square is equally likely.
/// Larger ones start from the cyclic square and permute all rows, columns and numbers. Both are as
/// R. A. Fisher and F. Yates, "Statistical Tables for Biological, Agricultural and Medical
/// Research", and W. G. Cochran and G. M. Cox, "Experimental Designs", have it (from memory).
[[nodiscard]] LatinSquare random_latin_square(std::size_t size, RandomOrder& random);

/// Each row the one above it, shifted by one.
[[nodiscard]] LatinSquare cyclic_square(std::size_t size);

/// How many reduced squares there are: first row and first column in order. Sizes up to 6.
[[nodiscard]] std::size_t count_reduced_squares(std::size_t size);

}  // namespace leastwise::trial
