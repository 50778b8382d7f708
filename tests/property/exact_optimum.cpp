#include "property/exact_optimum.hpp"

#include <cmath>
#include <vector>

namespace leastwise::support {
namespace {

/// `sum coefficient * x >= bound`.
struct HalfSpace {
  std::vector<Rational> coefficient{};
  Rational bound{};
};

/// Walks all vertices of a polyhedron by choosing tight half-spaces one after the other.
class VertexWalk {
 public:
  VertexWalk(std::vector<HalfSpace> spaces, std::vector<Rational> cost)
      : spaces_(std::move(spaces)), cost_(std::move(cost)) {}

  std::optional<Rational> least_cost() {
    choose(0);
    return best_;
  }

 private:
  struct Pivot {
    std::vector<Rational> row{};  ///< coefficients, then the bound; 1 at `column`
    std::size_t column = 0;
  };

  void choose(std::size_t first) {
    if (pivots_.size() == cost_.size()) return weigh();
    for (std::size_t k = first; k < spaces_.size(); ++k) {
      if (!push(spaces_[k])) continue;
      choose(k + 1);
      pivots_.pop_back();
    }
  }

  /// Reduces the half-space's hyperplane by those chosen; false when it adds no direction.
  bool push(const HalfSpace& space) {
    Pivot pivot{space.coefficient, 0};
    pivot.row.push_back(space.bound);
    for (const Pivot& earlier : pivots_) {
      const Rational by = pivot.row[earlier.column];
      if (by == 0) continue;
      for (std::size_t j = 0; j < pivot.row.size(); ++j) pivot.row[j] -= by * earlier.row[j];
    }
    while (pivot.column < cost_.size() && pivot.row[pivot.column] == 0) ++pivot.column;
    if (pivot.column == cost_.size()) return false;
    const Rational by = pivot.row[pivot.column];
    for (Rational& value : pivot.row) value /= by;
    pivots_.push_back(std::move(pivot));
    return true;
  }

  void weigh() {
    std::vector<Rational> x(cost_.size());
    for (std::size_t k = pivots_.size(); k-- > 0;) {
      const Pivot& pivot = pivots_[k];
      Rational value = pivot.row.back();
      for (std::size_t later = k + 1; later < pivots_.size(); ++later)
        value -= pivot.row[pivots_[later].column] * x[pivots_[later].column];
      x[pivot.column] = value;
    }
    for (const HalfSpace& space : spaces_) {
      Rational sum = 0;
      for (std::size_t j = 0; j < x.size(); ++j) sum += space.coefficient[j] * x[j];
      if (sum < space.bound) return;
    }
    Rational cost = 0;
    for (std::size_t j = 0; j < x.size(); ++j) cost += cost_[j] * x[j];
    if (!best_ || cost < *best_) best_ = cost;
  }

  std::vector<HalfSpace> spaces_;
  std::vector<Rational> cost_;
  std::vector<Pivot> pivots_;
  std::optional<Rational> best_;
};

using Choice = std::vector<std::size_t>;

bool contains(unsigned set, std::size_t i) { return (set >> i & 1U) != 0; }

bool allowed(const Reading& reading, unsigned set) {
  int granules = 0;
  for (std::size_t i = 0; i < reading.size(); ++i) {
    if (contains(set, i) && !reading.enters[i]) return false;
    granules += contains(set, i) && reading.granule[i] ? 1 : 0;
  }
  if (reading.bins > 0 && granules > reading.bins) return false;
  for (const Apart& apart : reading.apart) {
    bool first = false, second = false;
    for (const std::size_t i : apart.first) first = first || contains(set, i);
    for (const std::size_t i : apart.second) second = second || contains(set, i);
    if (first && second) return false;
  }
  return true;
}

/// True when a larger allowed set covers this one: the added material may simply be 0.
bool covered(const Reading& reading, unsigned set) {
  for (std::size_t i = 0; i < reading.size(); ++i)
    if (!contains(set, i) && reading.minimum_if_used[i] == 0 && allowed(reading, set | 1U << i))
      return true;
  return false;
}

void add_side(std::vector<HalfSpace>& spaces, const std::vector<double>& coefficient,
              const Choice& choice, double limit, int sign, const Rational& slack) {
  if (!std::isfinite(limit)) return;
  HalfSpace space;
  double largest = 0;
  for (const std::size_t i : choice) {
    space.coefficient.push_back(Rational(coefficient[i]) * sign);
    largest = std::max(largest, std::fabs(coefficient[i]));
  }
  space.bound = Rational(limit) * sign;
  space.bound -= slack * (limit == 0 ? Rational(largest) : Rational(std::fabs(limit)));
  spaces.push_back(std::move(space));
}

std::optional<Rational> least_cost_of(const Reading& reading, const Choice& choice,
                                      const Rational& slack) {
  std::vector<HalfSpace> spaces;
  std::vector<Rational> cost;
  for (std::size_t k = 0; k < choice.size(); ++k) {
    HalfSpace nonnegative{std::vector<Rational>(choice.size(), 0), 0};
    nonnegative.coefficient[k] = 1;
    spaces.push_back(nonnegative);
    cost.emplace_back(reading.cost_per_kg[choice[k]]);
  }
  for (const LinearRule& rule : reading.rules) {
    add_side(spaces, rule.coefficient, choice, rule.lower, 1, slack);
    add_side(spaces, rule.coefficient, choice, rule.upper, -1, slack);
  }
  for (const std::size_t i : choice) {
    if (reading.minimum_if_used[i] == 0) continue;
    std::vector<double> row(reading.size());
    for (std::size_t k = 0; k < row.size(); ++k)
      row[k] = (k == i ? 1 : 0) - reading.minimum_if_used[i] * reading.mass[k];
    add_side(spaces, row, choice, 0, 1, slack);
  }
  return VertexWalk(std::move(spaces), std::move(cost)).least_cost();
}

}  // namespace

std::optional<Rational> exact_optimum(const Reading& reading, const Rational& slack) {
  std::optional<Rational> best;
  for (unsigned set = 0; set < 1U << reading.size(); ++set) {
    if (!allowed(reading, set) || covered(reading, set)) continue;
    Choice choice;
    for (std::size_t i = 0; i < reading.size(); ++i)
      if (contains(set, i)) choice.push_back(i);
    const std::optional<Rational> cost = least_cost_of(reading, choice, slack);
    if (cost && (!best || *cost < *best)) best = cost;
  }
  return best;
}

}  // namespace leastwise::support
