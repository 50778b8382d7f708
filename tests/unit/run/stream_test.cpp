#include <doctest/doctest.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/load.hpp>
#include <leastwise/stream.hpp>

#include <optional>
#include <stdexcept>
#include <stop_token>
#include <string>
#include <vector>

using namespace leastwise;

namespace {

Scenario stream_base() {
  return parse_scenario(
      "leastwise: 1\n"
      "materials: {urea: {price_per_t: 455}, clay-filler: {price_per_t: 45}}\n"
      "grade_percent: {N: {min: 20}}\n");
}

/// The lines of `list`, one after the other.
NextLine lines_from(const std::vector<std::string>& list) {
  return [&list, next = std::size_t{0}]() mutable -> std::optional<std::string> {
    return next < list.size() ? std::optional(list[next++]) : std::nullopt;
  };
}

std::string stream_answers(const std::vector<std::string>& questions, StreamOptions how = {}) {
  how.bases.push_back({"base", stream_base()});
  std::string text;
  const StreamEnd end = answer_lines(
      lines_from(questions), [&](std::string_view lines) { text += lines; }, how);
  CHECK(end.complete);
  CHECK(end.answered == static_cast<long>(questions.size()));
  return text;
}

bool answer_holds(const std::string& text, const std::string& part) {
  if (text.find(part) == std::string::npos) MESSAGE(text);
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_SUITE_BEGIN("stream");

TEST_CASE("questions are marked by FNV-1a with 64 bits") {
  // The test vectors of draft-eastlake-fnv for "", "a" and "foobar", from memory.
  CHECK(question_mark("") == "cbf29ce484222325");
  CHECK(question_mark("a") == "af63dc4c8601ec8c");
  CHECK(question_mark("foobar") == "85944171f73967e8");
}

TEST_CASE("the mark of an answer is read back, and of nothing else") {
  const std::string answer = stream_answers({R"({"id": "a"})"});
  const std::string line = answer.substr(0, answer.size() - 1);
  CHECK(answer_mark(line) == AnswerMark{1, question_mark(R"({"id": "a"})")});
  CHECK_FALSE(answer_mark(line.substr(0, line.size() - 1)));
  CHECK_FALSE(answer_mark(R"({"line": 1})"));
  CHECK_FALSE(answer_mark(""));
}

TEST_CASE("what is wrong with a question is its answer, at its line and path") {
  StreamOptions how;
  how.first_line = 7;
  const std::string text =
      stream_answers({R"({"price": {"urea": "dear"}})", "[1]", "{\"limit\": {\"rate N min\": 3}}",
                      R"({"limit": {"grade N min": -4}})", R"({"base": "x.yaml"})",
                      R"({"without": ["sand"]})", "{}"},
                     how);
  CHECK(answer_holds(text, R"("line":7,)"));
  CHECK(answer_holds(text, R"("code":"bad-number","message":"expected a number for urea)"));
  CHECK(answer_holds(text, R"("path":"price.urea","source":"questions","line":7,"column":20)"));
  CHECK(answer_holds(text, R"(found '[1]')"));
  CHECK(
      answer_holds(text, R"(expected a rule whose limit the scenario states, found 'rate N min')"));
  CHECK(answer_holds(text, R"("code":"no-folder")"));
  CHECK(answer_holds(text, R"(expected a material of the scenario, found 'sand')"));
  CHECK(answer_holds(text,
                     R"("line":13,"question":"08f44b07b5901a25","id":null,"status":"optimal")"));
}

TEST_CASE("what a reader or writer throws comes out, from any number of threads") {
  const std::vector<std::string> questions(500, "{}");
  for (const unsigned threads : {1U, 4U}) {
    StreamOptions how;
    how.threads = threads;
    how.bases.push_back({"base", stream_base()});
    CHECK_THROWS_AS(
        answer_lines(
            lines_from(questions), [](std::string_view) { throw std::runtime_error("full"); }, how),
        std::runtime_error);
    CHECK_THROWS_AS(
        answer_lines([]() -> std::optional<std::string> { throw std::logic_error("torn"); },
                     [](std::string_view) {}, how),
        std::logic_error);
  }
}

TEST_CASE("a request to stop ends the stream between two answers") {
  const std::vector<std::string> questions(500, "{}");
  std::stop_source source;
  StreamOptions how;
  how.threads = 2;
  how.stop = source.get_token();
  how.bases.push_back({"base", stream_base()});
  std::string text;
  const StreamEnd end = answer_lines(
      lines_from(questions),
      [&](std::string_view lines) {
        text += lines;
        source.request_stop();
      },
      how);
  CHECK_FALSE(end.complete);
  CHECK(end.answered < 500);
  CHECK(text.ends_with("}\n"));
  CHECK(text.find("cancelled") == std::string::npos);
}

TEST_SUITE_END();
