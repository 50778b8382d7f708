#include "trial/alpha_design.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>

#include "trial/random_order.hpp"

namespace leastwise::trial {
namespace {

/// One column for each replicate: an offset for each set.
using Array = std::vector<std::vector<std::size_t>>;

/// Looks for an array in which no two labels meet twice; where it finds none, for one in which few
/// do.
class ArraySearch {
 public:
  ArraySearch(std::size_t blocks, std::size_t sets, std::size_t replicates, std::uint64_t attempt)
      : blocks_(blocks),
        sets_(sets),
        replicates_(replicates),
        random_(attempt, 0, 0),
        meetings_(sets * sets * blocks, 0) {}

  Array array() {
    Array columns{std::vector<std::size_t>(sets_, 0)};
    note(columns.front());
    while (columns.size() < replicates_) {
      column_.assign(sets_, 0);
      steps_ = 0;
      if (!extend(1)) choose_least();
      note(column_);
      columns.push_back(column_);
    }
    return columns;
  }

 private:
  static constexpr int most_steps = 20000;

  /// How often labels of the sets i and j that are `column_` apart have met.
  int& meetings(std::size_t i, std::size_t j, const std::vector<std::size_t>& column) {
    return meetings_[(i * sets_ + j) * blocks_ + (column[i] + blocks_ - column[j]) % blocks_];
  }

  void note(const std::vector<std::size_t>& column) {
    for (std::size_t i = 1; i < sets_; ++i) {
      for (std::size_t j = 0; j < i; ++j) ++meetings(i, j, column);
    }
  }

  std::vector<std::size_t> offsets() {
    std::vector<std::size_t> order(blocks_);
    std::iota(order.begin(), order.end(), std::size_t{0});
    random_.shuffle(order);
    return order;
  }

  /// What the offset of set i adds to labels that meet again.
  std::size_t meets_again(std::size_t i) {
    std::size_t sum = 0;
    for (std::size_t j = 0; j < i; ++j) sum += static_cast<std::size_t>(meetings(i, j, column_));
    return sum;
  }

  /// Offsets from set `i` on such that nobody meets again; false when the search gives up.
  bool extend(std::size_t i) {
    if (i == sets_) return true;
    for (const std::size_t offset : offsets()) {
      if (++steps_ > most_steps) return false;
      column_[i] = offset;
      if (meets_again(i) == 0 && extend(i + 1)) return true;
    }
    return false;
  }

  /// Each offset in turn such that the fewest meet again.
  void choose_least() {
    for (std::size_t i = 1; i < sets_; ++i) {
      std::size_t best = 0;
      std::size_t fewest = static_cast<std::size_t>(-1);
      for (const std::size_t offset : offsets()) {
        column_[i] = offset;
        const std::size_t again = meets_again(i);
        if (again >= fewest) continue;
        fewest = again;
        best = offset;
      }
      column_[i] = best;
    }
  }

  std::size_t blocks_;
  std::size_t sets_;
  std::size_t replicates_;
  RandomOrder random_;
  std::vector<int> meetings_;
  std::vector<std::size_t> column_{};
  int steps_ = 0;
};

ResolvableBlocks blocks_of(const Array& array, std::size_t blocks, std::size_t count) {
  ResolvableBlocks design;
  for (const auto& column : array) {
    auto& replicate = design.emplace_back(blocks);
    for (std::size_t b = 0; b < blocks; ++b) {
      for (std::size_t set = 0; set < column.size(); ++set) {
        const std::size_t label = set * blocks + (column[set] + b) % blocks;
        if (label < count) replicate[b].push_back(label);
      }
    }
  }
  return design;
}

/// Each set as a block: where these are as large as the others, labels that meet nowhere else.
std::vector<std::vector<std::size_t>> sets_as_blocks(std::size_t size) {
  std::vector<std::vector<std::size_t>> sets(size, std::vector<std::size_t>(size));
  for (std::size_t label = 0; label < size * size; ++label) {
    sets[label / size][label % size] = label;
  }
  return sets;
}

/// The trace of the inverse of a positive definite matrix, by Cholesky; nothing below 0 means that
/// it is none.
double trace_of_inverse(std::vector<std::vector<double>> a) {
  const std::size_t n = a.size();
  constexpr double singular = 1e-9;
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k) a[j][j] -= a[j][k] * a[j][k];
    if (a[j][j] < singular) return -1;
    a[j][j] = std::sqrt(a[j][j]);
    for (std::size_t i = j + 1; i < n; ++i) {
      for (std::size_t k = 0; k < j; ++k) a[i][j] -= a[i][k] * a[j][k];
      a[i][j] /= a[j][j];
    }
  }
  double trace = 0;
  std::vector<double> column(n);
  for (std::size_t j = 0; j < n; ++j) {  // column j of the inverse of the lower triangle
    for (std::size_t i = j; i < n; ++i) {
      double sum = i == j ? 1 : 0;
      for (std::size_t k = j; k < i; ++k) sum -= a[i][k] * column[k];
      column[i] = sum / a[i][i];
      trace += column[i] * column[i];
    }
  }
  return trace;
}

}  // namespace

double efficiency_factor(const ResolvableBlocks& design, std::size_t count) {
  const auto replicates = static_cast<double>(design.size());
  const auto all = static_cast<double>(count);
  // The information matrix, divided by the replicates, with 1 in place of the eigenvalue 0.
  std::vector<std::vector<double>> matrix(count, std::vector<double>(count, 1 / all));
  for (std::size_t i = 0; i < count; ++i) matrix[i][i] += 1;
  for (const auto& replicate : design) {
    for (const auto& block : replicate) {
      const double share = 1 / (replicates * static_cast<double>(block.size()));
      for (const std::size_t i : block) {
        for (const std::size_t j : block) matrix[i][j] -= share;
      }
    }
  }
  const double trace = trace_of_inverse(std::move(matrix));
  return trace <= 1 ? 0 : (all - 1) / (trace - 1);
}

double efficiency_bound(std::size_t count, std::size_t blocks, std::size_t replicates) {
  const double within = static_cast<double>(count - 1) * static_cast<double>(replicates - 1);
  return within / (within + static_cast<double>(replicates) * static_cast<double>(blocks - 1));
}

ResolvableBlocks alpha_design(std::size_t count, std::size_t block_size, std::size_t replicates) {
  constexpr double work = 3e7;  // about a tenth of a second
  constexpr double most_attempts = 50;
  const std::size_t blocks = (count + block_size - 1) / block_size;
  const double cube = std::pow(static_cast<double>(count), 3);
  const auto attempts = static_cast<std::uint64_t>(std::clamp(work / cube, 1.0, most_attempts));
  const bool lattice = blocks == block_size && count == blocks * block_size && replicates > 1;
  const std::size_t columns = lattice ? replicates - 1 : replicates;
  ResolvableBlocks best;
  double highest = -1;
  // One that leaves labels apart is never the last word.
  for (std::uint64_t attempt = 0; attempt < attempts || highest <= 0; ++attempt) {
    auto design =
        blocks_of(ArraySearch(blocks, block_size, columns, attempt).array(), blocks, count);
    if (lattice) design.push_back(sets_as_blocks(blocks));
    const double factor = efficiency_factor(design, count);
    if (factor <= highest + 1e-9) continue;
    highest = factor;
    best = std::move(design);
  }
  return best;
}

}  // namespace leastwise::trial
