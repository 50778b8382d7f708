#include "base/text/csv.hpp"

#include <doctest/doctest.h>

#include <random>
#include <string>
#include <string_view>
#include <vector>

using namespace leastwise;

namespace {

std::vector<std::vector<std::string>> texts(const CsvText& csv) {
  std::vector<std::vector<std::string>> all;
  for (const CsvRow& row : csv.rows) {
    all.emplace_back();
    for (const CsvField& field : row.fields) all.back().push_back(field.text);
  }
  return all;
}

using Texts = std::vector<std::vector<std::string>>;

}  // namespace

TEST_SUITE("comma-separated values") {
  TEST_CASE("rows and fields are read, with LF, CR LF or no end at the last line") {
    const Texts expected = {{"material", "price"}, {"urea", "410"}};
    CHECK(texts(parse_csv("material,price\nurea,410\n")) == expected);
    CHECK(texts(parse_csv("material,price\r\nurea,410\r\n")) == expected);
    CHECK(texts(parse_csv("material,price\nurea,410")) == expected);
  }

  TEST_CASE("an empty text has no rows and no problems") {
    for (const char* text : {"", "\n", "\r\n\r\n", "\xEF\xBB\xBF"}) {
      const CsvText csv = parse_csv(text);
      CHECK(csv.rows.empty());
      CHECK(csv.problems.empty());
    }
  }

  TEST_CASE("a byte order mark is no part of the first field and does not shift its column") {
    const CsvText csv = parse_csv("\xEF\xBB\xBFname,price\n");
    CHECK(csv.rows.at(0).fields.at(0).text == "name");
    CHECK(csv.rows.at(0).fields.at(0).column == 1);
    CHECK(csv.rows.at(0).fields.at(1).column == 6);
  }

  TEST_CASE("empty fields count, also at the end of a line") {
    CHECK(texts(parse_csv("a,,b,\n,\n")) == Texts{{"a", "", "b", ""}, {"", ""}});
  }

  TEST_CASE("a quoted field may hold commas, line ends and doubled quotes") {
    CHECK(texts(parse_csv("\"a, b\",\"say \"\"lime\"\"\",\"\"\n\"two\r\nlines\",x\n")) ==
          Texts{{"a, b", "say \"lime\"", ""}, {"two\nlines", "x"}});
  }

  TEST_CASE("every field knows its line, its column and its width in characters") {
    const CsvText csv = parse_csv("a,b\n\nd\xC3\xBCnger,\"x\ny\",12\n");
    REQUIRE(csv.rows.size() == 2);
    const CsvRow& row = csv.rows[1];
    CHECK(row.line == 3);
    CHECK(row.fields[0].line == 3);
    CHECK(row.fields[0].width == 6);
    CHECK(row.fields[1].line == 3);
    CHECK(row.fields[1].column == 8);
    CHECK(row.fields[1].quoted);
    CHECK(row.fields[2].line == 4);
    CHECK(row.fields[2].column == 4);
    CHECK(row.fields[2].width == 2);
    CHECK_FALSE(row.fields[2].quoted);
  }

  TEST_CASE("the width of a quoted field includes its quotes") {
    const CsvText csv = parse_csv("\"urea\",410\n");
    CHECK(csv.rows.at(0).fields.at(0).width == 6);
    CHECK(csv.rows.at(0).fields.at(1).column == 8);
  }

  TEST_CASE("a quote that is never closed is reported where it opens, and the next line is read") {
    const CsvText csv = parse_csv("a,b\nc,\"d\ne,f\n");
    REQUIRE(csv.problems.size() == 1);
    CHECK(csv.problems[0].line == 2);
    CHECK(csv.problems[0].column == 3);
    CHECK(csv.problems[0].message == "a quote that is opened here is never closed");
    CHECK(texts(csv) == Texts{{"a", "b"}, {"e", "f"}});
  }

  TEST_CASE("text behind a closing quote is a problem") {
    const CsvText csv = parse_csv("\"a\"b,c\nd\n");
    REQUIRE(csv.problems.size() == 1);
    CHECK(csv.problems[0].line == 1);
    CHECK(csv.problems[0].column == 4);
    CHECK(csv.problems[0].message ==
          "expected a comma or the end of the line after a closing quote");
    CHECK(texts(csv) == Texts{{"d"}});
  }

  TEST_CASE("a quote inside a field that is not quoted is a problem") {
    const CsvText csv = parse_csv("5\" bag,1\n");
    REQUIRE(csv.problems.size() == 1);
    CHECK(csv.problems[0].column == 2);
    CHECK(csv.rows.empty());
  }

  TEST_CASE("control characters and a lone carriage return are problems, each reported") {
    const CsvText csv = parse_csv(std::string("a\0b\n", 4) + "c\rd\n\"e\x1b\"\ng\n");
    REQUIRE(csv.problems.size() == 3);
    CHECK(csv.problems[0].line == 1);
    CHECK(csv.problems[1].line == 2);
    CHECK(csv.problems[2].line == 3);
    CHECK(texts(csv) == Texts{{"g"}});
  }

  TEST_CASE("whatever is written by the rules is read back, whatever it holds") {
    constexpr std::string_view alphabet = "ab,\"\n \xC3\xBC";
    std::mt19937 random(20260302);
    for (int i = 0; i < 2000; ++i) {
      Texts rows(1 + random() % 4);
      std::string written;
      for (auto& row : rows) {
        row.resize(2 + random() % 3);
        for (auto& field : row) {
          field.resize(random() % 6);
          for (char& c : field) c = alphabet[random() % alphabet.size()];
          written += &field == &row.front() ? "\"" : ",\"";
          for (const char c : field) written += c == '"' ? "\"\"" : std::string(1, c);
          written += '"';
        }
        written += i % 2 == 0 ? "\n" : "\r\n";
      }
      CAPTURE(written);
      const CsvText csv = parse_csv(written);
      CHECK(csv.problems.empty());
      CHECK(texts(csv) == rows);
    }
  }

  TEST_CASE("many unclosed quotes are read in reasonable time") {
    std::string text;
    for (int i = 0; i < 2001; ++i) text += "a,\"b\n";
    const CsvText csv = parse_csv(text);
    CHECK(csv.problems.size() + csv.rows.size() > 0);
  }
}
