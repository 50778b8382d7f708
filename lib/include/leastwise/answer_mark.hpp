#pragma once
#include <leastwise/export.h>

#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// What an answer says of its question.
struct AnswerMark {
  long line = 0;           ///< its number
  std::string question{};  ///< 16 hexadecimal digits, as `question_mark` gives them
  friend bool operator==(const AnswerMark&, const AnswerMark&) = default;  ///< in both
};

/// Tells one question from another: FNV-1a, 64 bits, of the bytes of its line.
[[nodiscard]] LEASTWISE_API std::string question_mark(std::string_view question);
/// The mark at the start of an answer; nothing for what is no answer.
[[nodiscard]] LEASTWISE_API std::optional<AnswerMark> answer_mark(std::string_view answer);

}  // namespace leastwise
