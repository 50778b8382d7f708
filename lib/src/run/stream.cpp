#include <leastwise/formulate.hpp>
#include <leastwise/load_stopped.hpp>
#include <leastwise/stream.hpp>

#include <algorithm>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>
#include <utility>

#include "base/in_parallel.hpp"
#include "report/stream_json.hpp"
#include "run/stream_bases.hpp"
#include "run/stream_question.hpp"

namespace leastwise {
namespace {

using namespace run_door;

/// An answer to be written.
struct Answered {
  std::string line{};  ///< empty: not answered, for somebody asked to stop
  bool rejected = false;
};

/// Findings about the only line of `name` are about that line of the stream.
InputError at_line(const InputError& error, const std::string& name, long line) {
  std::vector<Diagnostic> diagnostics = error.diagnostics();
  for (Diagnostic& found : diagnostics)
    if (found.place.source == name && found.place.line == 1)
      found.place.line = static_cast<int>(line);
  return InputError(std::move(diagnostics));
}

/// Answers one question at a time.
class Answerer {
 public:
  explicit Answerer(const StreamOptions& options) : options_(options), bases_(options) {}

  Answered answer(std::string_view text, long line) {
    if (text.ends_with('\r')) text.remove_suffix(1);
    const AnswerMark mark{line, question_mark(text)};
    std::string id = "null";
    try {
      QuestionText question(text, options_);
      id = question.id();
      const Formulation found = formulated(question);
      if (const Stopped* cut = found.stopped(); cut && cut->cause == StopCause::cancelled)
        return {};
      return {report::answer_line(mark, id, found, options_.full), false};
    } catch (const InputError& error) {
      return {report::rejected_line(mark, id, at_line(error, options_.name, line)), true};
    } catch (const LoadStopped&) {
      return {};
    }
  }

 private:
  Formulation formulated(QuestionText& question) {
    const SolveOptions how{
        .time_limit = options_.time_limit, .stop = options_.stop, .intervals = options_.full};
    if (question.is_scenario()) return formulate(question.scenario(options_), how);
    const StreamChange change = question.change();
    const auto base = bases_.of(change, question);
    if (!change.change) return base->answer(change, question, how);
    return StreamBase(varied(base->scenario(), *change.change)).answer(change, question, how);
  }

  const StreamOptions& options_;
  StreamBases bases_;
};

/// Lines on their way from `next` to `write`: read one by one, answered in parallel, written in
/// order. No more than `window` are on their way at once.
class Pipeline {
 public:
  Pipeline(const NextLine& next, const WriteLines& write, const StreamOptions& options,
           std::size_t window)
      : next_(next),
        write_(write),
        options_(options),
        window_(window),
        line_(options.first_line),
        answerer_(options) {}

  /// What each thread does, until there are no more lines.
  void work() {
    try {
      while (answer_next()) {
      }
    } catch (...) {
      end();
      throw;
    }
  }

  [[nodiscard]] StreamEnd ending() const {
    StreamEnd end = end_;
    end.complete = !cut_ && slots_.empty();
    return end;
  }

 private:
  struct Slot {
    long line = 0;
    bool done = false;
    Answered answer{};
  };

  bool answer_next() {
    std::string text;
    Slot* slot = nullptr;
    {
      const std::scoped_lock reading(reading_);
      if (!wait_for_room()) return false;
      std::optional<std::string> line;
      if (!options_.stop.stop_requested()) line = next_();
      const std::scoped_lock lock(guard_);
      if (!line) {
        cut_ = cut_ || options_.stop.stop_requested();
        ended_ = true;
        return false;
      }
      text = std::move(*line);
      slot = &slots_.emplace_back(Slot{line_++});
    }
    Answered answer = answerer_.answer(text, slot->line);
    hand_in(*slot, std::move(answer));
    return true;
  }

  bool wait_for_room() {
    std::unique_lock lock(guard_);
    room_.wait(lock, [&] { return ended_ || slots_.size() < window_; });
    return !ended_;
  }

  void hand_in(Slot& slot, Answered answer) {
    std::unique_lock lock(guard_);
    slot.answer = std::move(answer);
    slot.done = true;
    if (writing_) return;
    writing_ = true;
    for (std::string ready = take_ready(); !ready.empty(); ready = take_ready()) {
      lock.unlock();
      write_(ready);
      lock.lock();
    }
    writing_ = false;
  }

  /// The answers that are next in order, as far as they are there.
  std::string take_ready() {
    std::string ready;
    while (!cut_ && !slots_.empty() && slots_.front().done) {
      const Slot& first = slots_.front();
      if (first.answer.line.empty()) {
        cut_ = true;
        ended_ = true;
        break;
      }
      ready += first.answer.line;
      ++end_.answered;
      if (first.answer.rejected && ++end_.rejected == 1) end_.first_rejected = first.line;
      slots_.pop_front();
    }
    room_.notify_all();
    return ready;
  }

  void end() {
    const std::scoped_lock lock(guard_);
    ended_ = true;
    room_.notify_all();
  }

  const NextLine& next_;
  const WriteLines& write_;
  const StreamOptions& options_;
  std::size_t window_;
  std::mutex reading_{};  ///< taken before `guard_`

  std::mutex guard_{};  ///< guards what follows
  std::condition_variable room_{};
  std::deque<Slot> slots_{};  ///< from the first line that is not written yet on
  long line_;
  bool ended_ = false;    ///< no more is read
  bool cut_ = false;      ///< no more is written
  bool writing_ = false;  ///< one of the threads writes
  StreamEnd end_{};

  Answerer answerer_;
};

}  // namespace

StreamEnd answer_lines(const NextLine& next, const WriteLines& write,
                       const StreamOptions& options) {
  constexpr std::size_t lines_per_thread = 64;
  const unsigned threads =
      options.threads > 0 ? options.threads : std::max(1U, std::thread::hardware_concurrency());
  Pipeline pipeline(next, write, options, lines_per_thread * threads);
  base::in_parallel(threads, threads, [&](std::size_t) { pipeline.work(); });
  return pipeline.ending();
}

}  // namespace leastwise
