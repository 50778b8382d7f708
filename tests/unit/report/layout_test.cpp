#include "report/kit/layout.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "report/kit/table.hpp"

using namespace leastwise::report;

TEST_SUITE_BEGIN("layout");

TEST_CASE("width counts code points, not bytes") {
  CHECK(columns_of("Zuckerrübe") == 10);
  CHECK(padded_right("ü", 3) == "ü  ");
  CHECK(padded_left("ü", 3) == "  ü");
}

TEST_CASE("text is broken at spaces, and a word too long for a line inside") {
  CHECK(wrapped("one two three", 7) == std::vector<std::string>{"one two", "three"});
  CHECK(wrapped("a bbbbbbb c", 3) == std::vector<std::string>{"a", "bbb", "bbb", "b c"});
  CHECK(wrapped("üüüü", 3) == std::vector<std::string>{"üüü", "ü"});
  CHECK(wrapped("", 5) == std::vector<std::string>{""});
}

TEST_CASE("control characters in a name cannot steer the terminal") {
  CHECK(printable("a\x1b[31mb\nc\x7f") == "a [31mb c ");
  CHECK(printable("a\xC2\x9B"
                  "31mb") == "a 31mb");
  CHECK(printable("\xC2\xB0") == "\xC2\xB0");
}

TEST_CASE("numbers stand with their decimal points under one another") {
  Table table;
  table.add_words("");
  table.add_numbers("kg");
  table.add_row({"urea", "100.0"});
  table.add_row({"zinc oxide", "0.800"});
  CHECK(table.lines(40) == std::vector<std::string>{"                   kg", "  urea        100.0",
                                                    "  zinc oxide    0.800"});
}

TEST_CASE("a column without any cell is left out, headings without words too") {
  Table table;
  table.add_words("");
  table.add_numbers("nothing here");
  table.add_row({"only", ""});
  CHECK(table.lines(40) == std::vector<std::string>{"  only"});
}

TEST_CASE("a long name wraps inside its column") {
  Table table;
  table.add_words("material");
  table.add_numbers("kg");
  table.add_row({"a very long name of a material that nobody would use", "12.00"});
  for (const std::string& line : table.lines(30)) CHECK(columns_of(line) <= 30);
}

TEST_CASE("headings of numbers wrap, and columns without room stand below the others") {
  Table table;
  table.add_words("material");
  for (int k = 0; k < 5; ++k) table.add_numbers("IDR/t of the day");
  table.add_row({"ammonium-sulfate", "12345678.90", "1.00", "12345678.90", "2.00", "98765432.10"});
  table.add_row({"urea", "1.00", "1.00", "1.00", "2.00", "3.00"});
  CHECK(table.lines(200).size() == 3);
  const auto wrapped_headings = table.lines(80);
  CHECK(wrapped_headings.size() == 5);
  CHECK(wrapped_headings.front().find("IDR/t") != std::string::npos);
  for (const std::size_t width : {80U, 60U, 40U, 30U}) {
    std::string all;
    for (const std::string& line : table.lines(width)) {
      CHECK(columns_of(line) <= width);
      all += line + '\n';
    }
    CHECK(all.find("98765432.10") != std::string::npos);
  }
  const auto divided = table.lines(40);
  CHECK(std::count_if(divided.begin(), divided.end(),
                      [](const std::string& line) { return line.starts_with("  urea"); }) > 1);
}

TEST_CASE("no word is broken while another column has room, and where none has, it is") {
  Table table;
  table.add_words("");
  table.add_words("");
  table.add_row({"a name of many words", "15.7-8.71-20.9 9.61 S"});
  const auto fits = table.lines(30);
  CHECK(fits ==
        std::vector<std::string>{"  a name of     15.7-8.71-20.9", "  many words    9.61 S"});
  for (const std::string& line : table.lines(26)) CHECK(columns_of(line) <= 26);
  Table one;
  one.add_words("");
  one.add_row({std::string(40, 'n')});
  for (const std::string& line : one.lines(20)) CHECK(columns_of(line) <= 20);
}

TEST_SUITE_END();
