#pragma once
#include <string>

#include "report/drawing/canvas.hpp"
#include "report/drawing/scale.hpp"

namespace leastwise::report {

/// An axis: what is laid along it and its name with the unit.
struct Axis {
  double from = 0;
  double to = 1;
  std::string name{};
};

/// Two axes with their lines and numbers; turns pairs of numbers into places of the drawing.
class Frame {
 public:
  /// The frame takes the whole width from `top` down, `height` high; see `bottom`. The name of the
  /// upright axis stands above it, that of the other one below.
  Frame(Canvas& canvas, const Axis& across, const Axis& up, double top, double height);

  [[nodiscard]] Point at(double across, double up) const { return {x_.at(across), y_.at(up)}; }
  [[nodiscard]] double left() const { return x_.start; }
  [[nodiscard]] double right() const { return x_.end; }
  [[nodiscard]] double ceiling() const { return y_.end; }
  [[nodiscard]] double floor() const { return y_.start; }
  /// Where what comes below the frame may begin.
  [[nodiscard]] double bottom() const { return bottom_; }

  /// A dashed upright line at a number that counts now, with its name, or with room for other words
  /// above it; nothing outside the frame.
  void mark_now(Canvas& canvas, double across, const std::string& name) const;

 private:
  Scale x_{};
  Scale y_{};
  double bottom_ = 0;
};

}  // namespace leastwise::report
