#pragma once
#include <leastwise/export.h>
#include <leastwise/answer_mark.hpp>
#include <leastwise/compare.hpp>

#include <chrono>
#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

// Questions as lines of JSON, answers as lines of JSON, in the order of the questions and with
// bounded memory. A question is a whole scenario, or says what it wants different from a base.

/// How a stream of questions is answered.
struct StreamOptions {
  /// Scenarios by the name that a question gives under `base`; the first is meant where it gives
  /// none.
  std::vector<NamedScenario> bases{};
  std::filesystem::path folder{};  ///< what other names under `base` start from; empty: no files
  bool allow_outside = false;      ///< whether they may lie outside `folder`
  std::string name = "questions";  ///< what stands for the questions in messages
  bool full = false;               ///< the whole report under `blend`, with intervals
  std::optional<std::chrono::duration<double>> time_limit{};  ///< for each question
  unsigned threads = 0;    ///< 0: as many as the machine has; changes nothing but the time
  long first_line = 1;     ///< the number of the first question
  std::stop_token stop{};  ///< ask from another thread to stop
};

/// How a stream ended.
struct StreamEnd {
  long answered = 0;        ///< lines written
  long rejected = 0;        ///< of these, questions that could not be read
  long first_rejected = 0;  ///< the number of the first such line; 0: none
  bool complete = false;    ///< false: asked to stop before all was answered
};

/// The most bytes of a question. What reads the lines may cut a longer one after one byte more.
inline constexpr std::size_t most_question_bytes = std::size_t{1} << 20U;

/// The next line, without its end; nothing at the end.
using NextLine = std::function<std::optional<std::string>()>;
/// Takes one or more whole lines, each with its end.
using WriteLines = std::function<void(std::string_view)>;

/// Answers every question that `next` gives, one line of JSON each, in order: a report of the kind
/// `stream_answer`. What is wrong with a question is its answer, and the others are not touched.
///
/// `next` and `write` are called on any of the threads, each by one at a time. An answer is written
/// as soon as those before it are, so that a program may wait for it before it asks on.
/// Throws: std::bad_alloc, and what `next` and `write` throw.
/// Deterministic: equal lines give equal bytes, for any number of threads and any first line.
LEASTWISE_API StreamEnd answer_lines(const NextLine& next, const WriteLines& write,
                                     const StreamOptions& options = {});

/// A file of answers to a part of the questions, in order.
struct AnswerShard {
  std::string name{};                ///< in messages
  std::function<NextLine()> open{};  ///< starts reading it from its start; may be called twice
};

/// Puts shards together again: writes the answers to all `questions` in order, the bytes that one
/// run over all of them writes. `first_line` is the number of the first question.
///
/// Throws: InputError with the lines that no shard answers, those that two answer, answers to other
/// questions than these, and lines that are no answers; nothing is written after the first of them.
/// And what the functions given throw.
LEASTWISE_API void merge_answers(const NextLine& questions, std::span<const AnswerShard> shards,
                                 const WriteLines& write, long first_line = 1);

}  // namespace leastwise
