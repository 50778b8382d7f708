#include "trial/latin_square.hpp"

#include <numeric>
#include <optional>

namespace leastwise::trial {
namespace {

constexpr std::size_t most_enumerated = 6;

/// Fills reduced squares cell by cell and counts them; keeps the one that is asked for.
class ReducedSquares {
 public:
  ReducedSquares(std::size_t size, std::optional<std::size_t> wanted)
      : size_(size), wanted_(wanted), square_(size, std::vector<std::size_t>(size, 0)) {
    for (std::size_t i = 0; i < size; ++i) square_[0][i] = square_[i][0] = i;
    fill(1, 1);
  }

  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] const LatinSquare& kept() const { return kept_; }

 private:
  /// True when the wanted one is found.
  bool fill(std::size_t row, std::size_t column) {
    if (row >= size_) {
      if (wanted_ == count_++) {
        kept_ = square_;
        return true;
      }
      return false;
    }
    if (column == size_) return fill(row + 1, 1);
    for (std::size_t number = 0; number < size_; ++number) {
      if (!fits(number, row, column)) continue;
      square_[row][column] = number;
      if (fill(row, column + 1)) return true;
    }
    return false;
  }

  [[nodiscard]] bool fits(std::size_t number, std::size_t row, std::size_t column) const {
    for (std::size_t k = 0; k < column; ++k) {
      if (square_[row][k] == number) return false;
    }
    for (std::size_t k = 0; k < row; ++k) {
      if (square_[k][column] == number) return false;
    }
    return true;
  }

  std::size_t size_;
  std::optional<std::size_t> wanted_;
  LatinSquare square_;
  LatinSquare kept_{};
  std::size_t count_ = 0;
};

std::vector<std::size_t> in_order(std::size_t count) {
  std::vector<std::size_t> numbers(count);
  std::iota(numbers.begin(), numbers.end(), std::size_t{0});
  return numbers;
}

}  // namespace

LatinSquare cyclic_square(std::size_t size) {
  LatinSquare square(size, std::vector<std::size_t>(size));
  for (std::size_t row = 0; row < size; ++row) {
    for (std::size_t column = 0; column < size; ++column) {
      square[row][column] = (row + column) % size;
    }
  }
  return square;
}

std::size_t count_reduced_squares(std::size_t size) {
  return ReducedSquares(size, std::nullopt).count();
}

LatinSquare random_latin_square(std::size_t size, RandomOrder& random) {
  LatinSquare start;
  if (size <= most_enumerated) {
    const std::size_t count = count_reduced_squares(size);
    start = ReducedSquares(size, random.below(count)).kept();
  } else {
    start = cyclic_square(size);
  }
  std::vector<std::size_t> rows = in_order(size);
  std::vector<std::size_t> columns = in_order(size);
  std::vector<std::size_t> numbers = in_order(size);
  random.shuffle(rows);
  random.shuffle(columns);
  random.shuffle(numbers);
  LatinSquare square(size, std::vector<std::size_t>(size));
  for (std::size_t row = 0; row < size; ++row) {
    for (std::size_t column = 0; column < size; ++column) {
      square[row][column] = numbers[start[rows[row]][columns[column]]];
    }
  }
  return square;
}

}  // namespace leastwise::trial
