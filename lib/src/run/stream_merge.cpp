#include <leastwise/diagnostic.hpp>
#include <leastwise/stream.hpp>

#include <queue>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

// Stable codes of diagnostics that only a merge can have.
constexpr std::string_view missing_answer = "missing-answer";
constexpr std::string_view doubled_answer = "doubled-answer";
constexpr std::string_view foreign_answer = "foreign-answer";
constexpr std::string_view no_answer = "no-answer";

constexpr std::size_t most_findings = 50;

std::string lines_in_words(long first, long last) {
  return first == last ? "line " + std::to_string(first)
                       : "lines " + std::to_string(first) + " to " + std::to_string(last);
}

std::string line_in_words(long line) { return lines_in_words(line, line); }

/// A shard while it is read: only the line that is next. It is opened when that line is due, so
/// that shards that follow one another are not open at once.
class Reader {
 public:
  explicit Reader(const AnswerShard& shard) : shard_(&shard) {
    NextLine first = shard.open();
    take(first());
  }

  [[nodiscard]] const std::optional<AnswerMark>& mark() const { return mark_; }
  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] const std::string& name() const { return shard_->name; }
  [[nodiscard]] bool ended() const { return ended_; }
  [[nodiscard]] int at() const { return at_; }

  void advance() {
    if (!next_) {
      next_ = shard_->open();
      static_cast<void>(next_());  // the line at hand
    }
    take(next_());
    if (ended_) next_ = {};
  }

 private:
  void take(std::optional<std::string> line) {
    ended_ = !line;
    if (ended_) return;
    ++at_;
    text_ = std::move(*line);
    mark_ = answer_mark(text_);
  }

  const AnswerShard* shard_;
  NextLine next_{};
  std::string text_{};
  std::optional<AnswerMark> mark_{};
  bool ended_ = false;
  int at_ = 0;
};

class Merge {
 public:
  Merge(std::span<const AnswerShard> shards, const WriteLines& write, long first_line)
      : write_(write), line_(first_line), first_line_(first_line) {
    for (const AnswerShard& shard : shards) enqueue(Reader(shard));
  }

  /// The next question.
  void take(const std::string& question) {
    const AnswerMark wanted{line_++, question_mark(question)};
    bool answered = false;
    while (!due_.empty() && due_.top().line <= wanted.line) {
      Reader reader = take_due();
      if (reader.mark()->line < first_line_)
        find(foreign_answer, reader,
             "answers " + line_in_words(reader.mark()->line) + ", which is not asked for");
      else if (answered)
        find(doubled_answer, reader,
             "answers " + line_in_words(wanted.line) + ", which is answered already");
      else if (*reader.mark() != wanted)
        find(foreign_answer, reader,
             "answers another question than that of " + line_in_words(wanted.line));
      else
        write(reader.text());
      answered = answered || reader.mark()->line == wanted.line;
      advance(std::move(reader));
    }
    if (!answered) miss(wanted.line);
  }

  /// After the last question. Throws: InputError with everything that was found.
  void end() {
    end_of_missing();
    while (!due_.empty()) {
      const Reader reader = take_due();
      find(foreign_answer, reader,
           "answers " + line_in_words(reader.mark()->line) + ", beyond the last question");
    }
    if (!diagnostics_.empty()) throw InputError(std::move(diagnostics_));
  }

 private:
  struct Due {
    long line = 0;
    std::size_t reader = 0;
    /// The earliest first; of one line, the first shard.
    bool operator<(const Due& other) const {
      return std::pair(line, reader) > std::pair(other.line, other.reader);
    }
  };

  void enqueue(Reader reader) {
    if (reader.ended()) return;
    if (!reader.mark()) {
      find(no_answer, reader, "is no answer of a stream; the rest of the file is left out");
      return;
    }
    due_.push({reader.mark()->line, readers_.size()});
    readers_.push_back(std::move(reader));
  }

  Reader take_due() {
    slot_ = due_.top().reader;
    due_.pop();
    return std::move(readers_[slot_]);
  }

  void advance(Reader reader) {
    const long before = reader.mark()->line;
    reader.advance();
    if (reader.ended()) return;
    if (!reader.mark()) {
      find(no_answer, reader, "is no answer of a stream; the rest of the file is left out");
      return;
    }
    if (reader.mark()->line <= before) {
      find(doubled_answer, reader,
           "answers " + line_in_words(reader.mark()->line) + " after " + line_in_words(before) +
               "; the rest of the file is left out");
      return;
    }
    due_.push({reader.mark()->line, slot_});
    readers_[slot_] = std::move(reader);
  }

  void write(const std::string& answer) {
    if (diagnostics_.empty() && missing_ == 0) write_(answer + '\n');
  }

  void miss(long line) {
    if (missing_ > 0 && last_missing_ + 1 != line) end_of_missing();
    if (missing_ == 0) missing_ = line;
    last_missing_ = line;
  }

  void end_of_missing() {
    if (missing_ == 0) return;
    Diagnostic diagnostic;
    diagnostic.code = missing_answer;
    diagnostic.message = "no file answers " + lines_in_words(missing_, last_missing_);
    diagnostic.path = lines_in_words(missing_, last_missing_);
    add(std::move(diagnostic));
    missing_ = 0;
  }

  void find(std::string_view code, const Reader& reader, const std::string& what) {
    Diagnostic diagnostic;
    diagnostic.code = code;
    diagnostic.message = "this " + what;
    diagnostic.place = {reader.name(), reader.at(), 1, 1};
    add(std::move(diagnostic));
  }

  void add(Diagnostic diagnostic) {
    if (diagnostics_.size() <= most_findings) diagnostics_.push_back(std::move(diagnostic));
  }

  const WriteLines& write_;
  long line_;
  long first_line_;
  std::vector<Reader> readers_{};
  std::size_t slot_ = 0;  ///< of the reader that was taken
  std::priority_queue<Due> due_{};
  long missing_ = 0;  ///< the first of a run of lines without an answer; 0: none
  long last_missing_ = 0;
  std::vector<Diagnostic> diagnostics_{};
};

}  // namespace

void merge_answers(const NextLine& questions, std::span<const AnswerShard> shards,
                   const WriteLines& write, long first_line) {
  Merge merge(shards, write, first_line);
  while (const auto question = questions()) {
    std::string_view text = *question;
    if (text.ends_with('\r')) text.remove_suffix(1);
    merge.take(std::string(text));
  }
  merge.end();
}

}  // namespace leastwise
