#pragma once
#include <optional>
#include <utility>

namespace leastwise {

/// A figure of an answer that may not have been looked for, and that may not exist.
///
/// Three states: not computed, looked for and none, or a value. What `none` stands for is said
/// where the figure is declared: no end of an interval, no blend beyond a limit.
template <class T>
class Known {
 public:
  Known() = default;  ///< Not computed.
  /// A value.
  Known(T value) : computed_(true), value_(std::move(value)) {}  // NOLINT(*-explicit-*)
  /// Looked for, and there is none.
  [[nodiscard]] static Known none() {
    Known known;
    known.computed_ = true;
    return known;
  }

  /// True when it was looked for and the outcome is certain.
  [[nodiscard]] bool is_computed() const { return computed_; }
  /// True when it was looked for and there is none.
  [[nodiscard]] bool is_none() const { return computed_ && !value_; }
  /// True when there is a value. False says nothing of why: see `is_none`.
  [[nodiscard]] bool has_value() const { return value_.has_value(); }
  /// The same as `has_value`.
  explicit operator bool() const { return value_.has_value(); }
  /// The value. Throws: std::bad_optional_access without one.
  [[nodiscard]] const T& value() const { return value_.value(); }
  /// The value; it must have one.
  [[nodiscard]] const T& operator*() const { return *value_; }
  /// The value, or `otherwise` without one.
  [[nodiscard]] T value_or(T otherwise) const { return value_.value_or(std::move(otherwise)); }

  /// Equal in state and value.
  friend bool operator==(const Known&, const Known&) = default;

 private:
  bool computed_ = false;
  std::optional<T> value_{};
};

}  // namespace leastwise
