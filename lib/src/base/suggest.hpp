#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace leastwise {

/// How many single-letter edits (insert, drop, change, swap neighbours) turn `a` into `b`, upper
/// and lower case alike; counting stops at 3, which stands for "3 or more".
[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

/// Whether `a` and `b` are one word but for the case of A to Z.
[[nodiscard]] bool same_but_for_case(std::string_view a, std::string_view b);

/// Finds the word a person most likely meant. Offer the candidates one by one; the nearest within
/// two edits wins, the first offered among equals. Short words must be nearer: up to three letters
/// one edit, a single letter none but its case.
class Suggestion {
 public:
  explicit Suggestion(std::string_view typed) : typed_(typed) {}
  void offer(std::string_view candidate);
  /// Takes a candidate that is known to be meant for another reason.
  void settle(std::string_view candidate) { best_ = std::string(candidate); }
  [[nodiscard]] const std::optional<std::string>& best() const { return best_; }
  /// `; did you mean 'X'?`, or nothing when no candidate is near.
  [[nodiscard]] std::string question() const;

 private:
  std::string typed_;
  std::optional<std::string> best_{};
  std::size_t distance_ = 3;
};

}  // namespace leastwise
