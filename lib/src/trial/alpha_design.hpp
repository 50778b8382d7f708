#pragma once
#include <cstddef>
#include <vector>

namespace leastwise::trial {

/// Replicates, each of blocks, each of labels from 0.
using ResolvableBlocks = std::vector<std::vector<std::vector<std::size_t>>>;

/// Incomplete blocks in which every replicate holds each of `count` labels once: an alpha design.
///
/// H. D. Patterson and E. R. Williams, "A new class of resolvable incomplete block designs",
/// Biometrika 63 (1976), 83-92: `s` blocks of `block_size` (or one less, by leaving labels out) in
/// each replicate, block b of replicate c holding label a[c][i] + b (mod s) of each set i. The
/// array a is searched for: no two labels meet twice where that can be, and of the arrays tried the
/// one of the highest efficiency factor. Where there are as many blocks as labels in one, the sets
/// are a replicate too, so that it is a square lattice. Not randomised; the same for the same
/// numbers.
[[nodiscard]] ResolvableBlocks alpha_design(std::size_t count, std::size_t block_size,
                                            std::size_t replicates);

/// Harmonic mean of the canonical efficiency factors, relative to complete blocks; 0 where some
/// labels are never compared.
[[nodiscard]] double efficiency_factor(const ResolvableBlocks& design, std::size_t count);

/// What no resolvable design of `blocks` equal blocks in each of `replicates` exceeds (Patterson
/// and Williams 1976): (v - 1)(r - 1) / ((v - 1)(r - 1) + r (s - 1)). A square lattice attains it.
[[nodiscard]] double efficiency_bound(std::size_t count, std::size_t blocks,
                                      std::size_t replicates);

}  // namespace leastwise::trial
