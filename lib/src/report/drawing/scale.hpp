#pragma once
#include <string>
#include <vector>

namespace leastwise::report {

/// Lays a range of numbers along a stretch of a drawing.
struct Scale {
  double from = 0;  ///< the number at `start`
  double to = 1;    ///< the number at `end`; not `from`
  double start = 0;
  double end = 0;

  [[nodiscard]] double at(double number) const {
    return start + (number - from) / (to - from) * (end - start);
  }
};

/// Round numbers (1, 2 or 5 times a power of ten apart) within [from, to], about so many.
struct Ticks {
  std::vector<double> numbers{};
  double step = 1;

  /// With as many decimals as the step needs.
  [[nodiscard]] std::string text(double number) const;
};

[[nodiscard]] Ticks ticks_between(double from, double to, int about);

/// [from, to] widened by a share of itself on both sides, and to something where it is a point.
[[nodiscard]] Scale widened(double from, double to, double share);

}  // namespace leastwise::report
