#include "analysis/rounding/rounding_rows.hpp"

#include <algorithm>
#include <cmath>

#include "solver/certificate.hpp"
#include "solver/search.hpp"

namespace leastwise::analysis {
namespace {

using model::infinity;

/// A row counts as met within the certificate's tolerance; a little more is granted here, so that
/// nothing is ruled out that a check would let pass.
constexpr double room = 1.01 * solver::certificate_tolerance;
/// Steps by which a range may be off a whole number for rounding.
constexpr double whole_room = 1e-6;
/// How often a row is tried, about as long as a linear program takes. One whose ranges multiply to
/// more than `most_products` is not even begun: most of them are passed over, but not so many.
constexpr long most_tried = 4000;
constexpr double most_products = 1e6;
constexpr int most_rounds = 3;
constexpr int most_passes = 3;  ///< of a round

}  // namespace

GridRows::GridRows(const GridModel& grid) : unit_(grid.unit), on_grid_(grid.model.cost.size(), 0) {
  for (const int j : grid.grid) on_grid_[static_cast<std::size_t>(j)] = 1;
  const auto data = solver::relaxation(grid.model);
  for (std::size_t i = 0; i < static_cast<std::size_t>(data.rows); ++i) {
    Row row;
    row.lower = data.row_lower[i];
    row.upper = data.row_upper[i];
    if (row.lower == -infinity && row.upper == infinity) continue;
    row.whole = true;
    double largest = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      if (entry.value == 0) continue;
      const auto j = static_cast<std::size_t>(entry.column);
      row.terms.push_back({j, entry.value * unit_});
      row.whole = row.whole && on_grid_[j];
      largest = std::max(largest, std::fabs(entry.value) * unit_);
    }
    row.narrow = row.whole && row.upper - row.lower < largest;
    // The last one follows from the others.
    std::sort(row.terms.begin(), row.terms.end(), [](const Term& a, const Term& b) {
      return std::fabs(a.per_step) > std::fabs(b.per_step);
    });
    rows_.push_back(std::move(row));
  }
}

/// Narrows a range to [low, high], one of steps to the whole numbers in it. Returns: false when
/// that leaves none.
bool GridRows::cut(Range& range, double low, double high, bool& changed) {
  if (range.whole) {
    low = std::ceil(low - whole_room);
    high = std::floor(high + whole_room);
  }
  if (low > range.least && (range.whole || low > range.least + 1)) {
    range.least = low;
    changed = true;
  }
  if (high < range.most && (range.whole || high < range.most - 1)) {
    range.most = high;
    changed = true;
  }
  return range.least <= range.most;
}

/// Narrows each column to what the others leave it.
bool GridRows::tighten(const Row& row, std::vector<Range>& ranges, bool& changed) {
  const auto at_least = [](const Range& range, double a) {
    return a > 0 ? a * range.least : a * range.most;
  };
  const auto at_most = [](const Range& range, double a) {
    return a > 0 ? a * range.most : a * range.least;
  };
  double least = 0;
  double most = 0;
  double size = 0;
  for (const auto& [j, a] : row.terms) {
    const Range& range = ranges[j];
    least += at_least(range, a);
    most += at_most(range, a);
    size += std::fabs(a) * std::max(std::fabs(range.least), std::fabs(range.most));
  }
  if (!std::isfinite(size)) return true;
  const double slack = room * size;
  if (least > row.upper + slack || most < row.lower - slack) return false;
  for (const auto& [j, a] : row.terms) {
    Range& range = ranges[j];
    double low = (row.lower - slack - (most - at_most(range, a))) / a;
    double high = (row.upper + slack - (least - at_least(range, a))) / a;
    if (a < 0) std::swap(low, high);
    // The sums above are then those of wider ranges: they stay valid, only weaker.
    if (!cut(range, low, high, changed)) return false;
  }
  return true;
}

/// Tries the whole numbers of one row, one by one.
class GridRows::Trial {
 public:
  Trial(const Row& row, const std::vector<Range>& ranges) : row_(row), ranges_(ranges) {
    for (const auto& term : row.terms) {
      const Range& range = ranges[term.column];
      if (range.least == range.most) {
        fixed_ += term.per_step * range.least;
        fixed_size_ += std::fabs(term.per_step * range.least);
      } else {
        free_.push_back(term);
      }
    }
    // The widest range is left for last: it needs no trying.
    if (!free_.empty())
      std::iter_swap(std::max_element(free_.begin(), free_.end(),
                                      [&](const Term& a, const Term& b) {
                                        return ranges[a.column].count() < ranges[b.column].count();
                                      }),
                     free_.end() - 1);
    rest_.resize(free_.size() + 1);
    for (std::size_t k = free_.size(); k-- > 0;) {
      const auto& [j, a] = free_[k];
      rest_[k].least = rest_[k + 1].least + std::min(a * ranges[j].least, a * ranges[j].most);
      rest_[k].most = rest_[k + 1].most + std::max(a * ranges[j].least, a * ranges[j].most);
      rest_[k].size = rest_[k + 1].size + std::fabs(a) * std::max(std::fabs(ranges[j].least),
                                                                  std::fabs(ranges[j].most));
    }
    found_.assign(free_.size(), {infinity, -infinity, true});
    counts_.assign(free_.size(), 0);
  }

  [[nodiscard]] bool promising() const {
    double products = 1;
    for (std::size_t k = 0; k + 1 < free_.size(); ++k) products *= ranges_[free_[k].column].count();
    return products <= most_products;
  }

  /// Returns: false when there were too many to try.
  [[nodiscard]] bool run() { return visit(0, fixed_, fixed_size_); }

  [[nodiscard]] bool any() const { return any_; }
  void hand_over(std::vector<Range>& ranges, bool& changed) const {
    for (std::size_t k = 0; k < free_.size(); ++k) {
      Range& range = ranges[free_[k].column];
      changed = changed || found_[k].least > range.least || found_[k].most < range.most;
      range = found_[k];
    }
  }

 private:
  struct Rest {
    double least = 0;
    double most = 0;
    double size = 0;
  };

  [[nodiscard]] bool meets(double sum, double size) const {
    return sum >= row_.lower - room * std::max(size, std::fabs(row_.lower)) &&
           sum <= row_.upper + room * std::max(size, std::fabs(row_.upper));
  }

  bool visit(std::size_t k, double sum, double size) {
    if (++tried_ > most_tried) return false;
    if (k == free_.size()) {
      if (meets(sum, size)) take();
      return true;
    }
    const auto& [j, a] = free_[k];
    // Only so many steps leave the rest within reach.
    const double slack = room * (size + rest_[k].size + std::fabs(row_.lower));
    double low = (row_.lower - slack - sum - rest_[k + 1].most) / a;
    double high = (row_.upper + slack - sum - rest_[k + 1].least) / a;
    if (a < 0) std::swap(low, high);
    low = std::max(std::ceil(low - whole_room), ranges_[j].least);
    high = std::min(std::floor(high + whole_room), ranges_[j].most);
    for (double n = low; n <= high; ++n) {
      counts_[k] = n;
      if (!visit(k + 1, sum + a * n, size + std::fabs(a * n))) return false;
    }
    return true;
  }

  void take() {
    any_ = true;
    for (std::size_t k = 0; k < free_.size(); ++k) {
      found_[k].least = std::min(found_[k].least, counts_[k]);
      found_[k].most = std::max(found_[k].most, counts_[k]);
    }
  }

  const Row& row_;
  const std::vector<Range>& ranges_;
  std::vector<Term> free_{};
  double fixed_ = 0;
  double fixed_size_ = 0;
  std::vector<Rest> rest_{};    ///< of the terms from here on
  std::vector<Range> found_{};  ///< along `free_`: what meets the row
  std::vector<double> counts_{};
  long tried_ = 0;
  bool any_ = false;
};

bool GridRows::try_all(const Row& row, std::vector<Range>& ranges, bool& changed) {
  if (!row.narrow) return true;
  for (const auto& term : row.terms)
    if (!std::isfinite(ranges[term.column].count())) return true;
  Trial trial(row, ranges);
  if (!trial.promising() || !trial.run()) return true;
  if (!trial.any()) return false;
  trial.hand_over(ranges, changed);
  return true;
}

/// The whole steps between the bounds. Returns: false when a column has none.
bool GridRows::ranges_within(const solver::NodeBounds& bounds, std::vector<Range>& ranges) const {
  ranges.resize(on_grid_.size());
  for (std::size_t j = 0; j < ranges.size(); ++j) {
    ranges[j] = {bounds.lower[j] / unit_, bounds.upper[j] / unit_, on_grid_[j] != 0};
    if (!ranges[j].whole) continue;
    ranges[j].least = std::ceil(ranges[j].least - whole_room);
    ranges[j].most = std::floor(ranges[j].most + whole_room);
    if (ranges[j].least > ranges[j].most) return false;
  }
  return true;
}

/// Narrows all ranges by all rows, a few times over. Returns: false when a row leaves nothing.
bool GridRows::tighten_all(std::vector<Range>& ranges) const {
  bool changed = true;
  for (int pass = 0; pass < most_passes && changed; ++pass) {
    changed = false;
    for (const auto& row : rows_)
      if (!tighten(row, ranges, changed)) return false;
  }
  return true;
}

bool GridRows::narrow(solver::NodeBounds& bounds) const {
  std::vector<Range> ranges;
  if (!ranges_within(bounds, ranges)) return false;
  const auto start = ranges;
  bool tried = true;
  for (int round = 0; round < most_rounds && tried; ++round) {
    if (!tighten_all(ranges)) return false;
    tried = false;
    for (const auto& row : rows_)
      if (!try_all(row, ranges, tried)) return false;
  }
  for (std::size_t j = 0; j < ranges.size(); ++j) {
    if (!ranges[j].whole) continue;
    if (ranges[j].least > start[j].least) bounds.lower[j] = ranges[j].least * unit_;
    if (ranges[j].most < start[j].most) bounds.upper[j] = ranges[j].most * unit_;
  }
  return true;
}

}  // namespace leastwise::analysis
