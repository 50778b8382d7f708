#include <leastwise/load.hpp>
#include <leastwise/stream.hpp>

#include <charconv>
#include <filesystem>
#include <limits>
#include <memory>
#include <utility>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "growing_file.hpp"
#include "line_reader.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis stream_synopsis{
    "stream",
    "FILE [ANSWERS...]",
    "Answers the questions in FILE ('-': standard input), one JSON object a line,\n"
    "with one JSON object a line, in their order: a whole scenario, or what differs\n"
    "from a base. A line that is wrong has an answer that says so. All processors\n"
    "work; memory does not grow with the number of lines. With --merge it puts the\n"
    "files ANSWERS, each with the answers to a part of FILE, together.\n"
    "Exit code: 0 every line has its answer, 1 a base or a file of answers rejected,\n"
    "3 stopped before the end, 64 wrong usage, 74 answers not written.\n",
    "  leastwise stream --base field.yaml questions.jsonl > answers.jsonl\n"
    "  leastwise stream --base field.yaml --resume --output a.jsonl questions.jsonl\n"
    "  leastwise stream --base field.yaml --lines 101-200 --output 2.jsonl q.jsonl\n"
    "  leastwise stream --merge --output a.jsonl q.jsonl 1.jsonl 2.jsonl\n",
    true,
    true};

/// The first and the last line that are asked for.
struct Lines {
  long first = 1;
  long last = std::numeric_limits<long>::max();
};

po::options_description stream_options() {
  po::options_description options;
  options.add_options()(
      "base", po::value<std::vector<std::string>>()->composing()->value_name("[NAME=]FILE"),
      "a scenario that questions start from, by the name they give; the first is meant where they "
      "give none; may be given many times")("full",
                                            "put the whole report of 'blend' into each answer")(
      "lines", po::value<std::string>()->value_name("FROM-TO"),
      "answer these lines alone, counted from 1; without TO to the last")(
      "merge", "put ANSWERS together; lines that are missing or there twice are errors")(
      "resume", "go on where an earlier run with the same --output ended")(
      "time-limit-each", po::value<std::string>()->value_name("SECONDS"),
      "of each question: it is answered as 'stopped' after that")(
      "threads", po::value<std::string>()->value_name("COUNT"),
      "how many to use (default: all); the answers are the same")(
      "allow-outside", "let questions and scenarios name files outside the folder of FILE")(
      "output", po::value<std::string>()->value_name("PATH"),
      "write to PATH instead of standard output ('-'); it grows as PATH.partial and gets its name "
      "when it is whole");
  return options;
}

Lines lines_of(const po::variables_map& options) {
  Lines lines;
  if (options.count("lines") == 0) return lines;
  const auto& text = options["lines"].as<std::string>();
  const char* end = text.data() + text.size();
  const auto [dash, error] = std::from_chars(text.data(), end, lines.first);
  bool good = error == std::errc() && lines.first >= 1 && dash != end && *dash == '-';
  if (good && dash + 1 != end) {
    const auto [rest, wrong] = std::from_chars(dash + 1, end, lines.last);
    good = wrong == std::errc() && rest == end && lines.last >= lines.first;
  }
  if (!good)
    throw UsageError("--lines expects two numbers of lines such as 1001-2000, found '" + text +
                     "'");
  return lines;
}

/// The questions of `FILE` from a line on to another.
class Questions {
 public:
  Questions(const std::string& file, const Lines& lines, std::stop_token stop)
      : reader_(file, most_question_bytes, std::move(stop)), line_(1), lines_(lines) {
    skip_to(lines.first);
  }

  std::optional<std::string> next() {
    if (line_ > lines_.last) return std::nullopt;
    ++line_;
    return reader_.next();
  }
  [[nodiscard]] long line() const { return line_; }

 private:
  void skip_to(long line) {
    while (line_ < line && reader_.next()) ++line_;
    line_ = line;
  }

  LineReader reader_;
  long line_;
  Lines lines_;
};

std::vector<NamedScenario> bases_of(const po::variables_map& options, const LongWork& work) {
  std::vector<NamedScenario> bases;
  if (options.count("base") == 0) return bases;
  for (const auto& setting : options["base"].as<std::vector<std::string>>()) {
    const std::size_t equals = setting.find('=');
    const std::string file = equals == std::string::npos ? setting : setting.substr(equals + 1);
    const std::string name = setting.substr(0, equals);
    if (name.empty() || file.empty())
      throw UsageError("--base expects [NAME=]FILE, found '" + setting + "'");
    for (const auto& other : bases)
      if (other.name == name) throw UsageError("--base names '" + name + "' twice");
    keep_input(file, options);
    bases.push_back(
        {name, read_under(work, [&] { return load_scenario(file, load_options(options, work)); })});
  }
  return bases;
}

StreamOptions how_to_answer(const std::string& file, const po::variables_map& options,
                            LongWork& work) {
  StreamOptions how;
  how.bases = bases_of(options, work);
  const auto parent = std::filesystem::path(file).parent_path();
  how.folder = file == "-" || parent.empty() ? std::filesystem::path(".") : parent;
  how.allow_outside = options.count("allow-outside") > 0;
  how.full = options.count("full") > 0;
  if (const auto seconds = number_given(options, "time-limit-each")) {
    if (*seconds <= 0)
      throw UsageError("--time-limit-each expects more than 0 seconds, found '" +
                       options["time-limit-each"].as<std::string>() + "'");
    how.time_limit = Seconds(*seconds);
  }
  constexpr long most_threads = 1024;
  if (const auto threads = whole_number_of(options, "threads")) {
    if (*threads < 1 || *threads > most_threads)
      throw UsageError("--threads expects a whole number from 1 to 1024, found '" +
                       options["threads"].as<std::string>() + "'");
    how.threads = static_cast<unsigned>(*threads);
  }
  how.stop = work.limits().stop;
  return how;
}

/// Keeps the answers that are in `file` already, as long as they are those to `questions`.
void go_on(GrowingFile& file, Questions& questions, const std::string& path) {
  if (file.partial().empty()) throw UsageError("--resume needs --output, a file");
  static_cast<void>(file.resume([&](const std::string& answer) {
    const long line = questions.line();
    const auto question = questions.next();
    const auto mark = answer_mark(answer);
    if (question && mark == AnswerMark{line, question_mark(*question)}) return true;
    throw UsageError("--resume: '" + path + ".partial' has another answer than that to line " +
                     std::to_string(line) + "; remove it, or leave out --resume");
  }));
}

int answer(const std::string& file, const po::variables_map& options, const Output& output) {
  LongWork work(options);
  StreamOptions how = how_to_answer(file, options, work);
  const bool resume = options.count("resume") > 0;
  const Lines lines = lines_of(options);
  if (resume && output.path && std::filesystem::is_regular_file(*output.path)) return blend_found;
  GrowingFile answers(output.path);
  Questions questions(file, lines, how.stop);
  if (resume)
    go_on(answers, questions, output.path.value_or(std::string()));
  else if (!answers.partial().empty())
    static_cast<void>(answers.resume([](const std::string&) { return false; }));
  how.first_line = questions.line();
  const StreamEnd end = answer_lines([&] { return questions.next(); },
                                     [&](std::string_view text) { answers.write(text); }, how);
  work.end();
  if (!end.complete) {
    complain("leastwise: stopped after line " + std::to_string(how.first_line + end.answered - 1) +
             (answers.partial().empty() ? "\n" : "; --resume goes on from there\n"));
    return stopped;
  }
  answers.finish();
  if (end.rejected > 0)
    complain("leastwise: " + std::to_string(end.rejected) + " of " + std::to_string(end.answered) +
             " questions rejected, the first in line " + std::to_string(end.first_rejected) + "\n");
  return blend_found;
}

int merge(const std::vector<std::string>& files, const po::variables_map& options,
          const Output& output) {
  LongWork work(options);
  for (const std::string& file : files) keep_input(file, options);
  Questions questions(files.front(), lines_of(options), work.reading());
  const long first_line = questions.line();
  std::vector<AnswerShard> shards;
  for (std::size_t i = 1; i < files.size(); ++i)
    shards.push_back({files[i], [&file = files[i]]() -> NextLine {
                        auto reader = std::make_shared<LineReader>(file, GrowingFile::longest_line);
                        return [reader] { return reader->next(); };
                      }});
  GrowingFile answers(output.path);
  static_cast<void>(
      answers.partial().empty() ? 0 : answers.resume([](const std::string&) { return false; }));
  try {
    merge_answers([&] { return questions.next(); }, shards,
                  [&](std::string_view text) { answers.write(text); }, first_line);
  } catch (...) {
    answers.discard();
    throw;
  }
  if (work.reading().stop_requested()) {
    answers.discard();
    work.leave_reading();
  }
  answers.finish();
  return blend_found;
}

int run_stream(const Arguments& arguments) {
  const po::options_description options = stream_options();
  const Parsed given = parsed(arguments, stream_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(stream_synopsis, options));
    return blend_found;
  }
  Output output;
  if (given.options.count("output") > 0) output.path = given.options["output"].as<std::string>();
  if (output.path && output.path->empty()) throw UsageError("--output expects a path");
  if (output.path == "-") output.path.reset();
  keep_input(*given.file, given.options);
  if (given.options.count("merge") > 0) {
    for (const char* other : {"base", "full", "resume", "threads", "time-limit-each"})
      if (given.options.count(other) > 0)
        throw UsageError("--merge cannot stand beside --" + std::string(other));
    if (given.files.size() < 2) throw UsageError("--merge expects files of answers behind FILE");
    return merge(given.files, given.options, output);
  }
  if (given.files.size() > 1)
    throw UsageError("expected one FILE, found '" + given.files[1] +
                     "' as well; --merge takes more");
  return answer(*given.file, given.options, output);
}

}  // namespace

extern const Command stream_command;
const Command stream_command{"stream", "answer questions as lines of JSON, on all processors",
                             run_stream};

}  // namespace leastwise::cli
