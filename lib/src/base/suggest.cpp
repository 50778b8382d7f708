#include "base/suggest.hpp"

#include <algorithm>
#include <array>

#include "base/text/wording.hpp"

namespace leastwise {
namespace {

constexpr std::size_t too_far = 3;
constexpr std::size_t longest_word = 64;

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::size_t allowed_edits(std::size_t length) {
  if (length <= 1) return 0;
  return length <= 3 ? 1 : 2;
}

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
  if (a.size() > longest_word || b.size() > longest_word) return a == b ? 0 : too_far;
  if (std::max(a.size(), b.size()) - std::min(a.size(), b.size()) >= too_far) return too_far;
  std::array<std::array<std::size_t, longest_word + 1>, 3> rows{};
  auto* before = rows[0].data();
  auto* above = rows[1].data();
  auto* row = rows[2].data();
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1;
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + change});
      if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
          lower(a[i - 2]) == lower(b[j - 1])) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    std::swap(before, above);
    std::swap(above, row);
  }
  return std::min(above[b.size()], too_far);
}

bool same_but_for_case(std::string_view a, std::string_view b) {
  return std::ranges::equal(a, b, {}, lower, lower);
}

void Suggestion::offer(std::string_view candidate) {
  if (candidate == typed_) return;
  const auto distance = edit_distance(typed_, candidate);
  if (distance < distance_ && distance <= allowed_edits(typed_.size())) {
    distance_ = distance;
    best_ = std::string(candidate);
  }
}

std::string Suggestion::question() const {
  return best_ ? "; did you mean " + in_quotes(*best_) + "?" : std::string();
}

}  // namespace leastwise
