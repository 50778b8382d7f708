#include "input/text_file.hpp"

#include <doctest/doctest.h>

#include <fstream>

#include "base/codes.hpp"

using leastwise::read_text_file;
using leastwise::split_text;

namespace codes = leastwise::codes;

TEST_SUITE("text files") {
  TEST_CASE("a text is split at LF, CR LF and CR, without its byte order mark") {
    const auto file = split_text(
        "\xEF\xBB\xBF"
        "a\nb\r\nc\rd");
    CHECK(file.good());
    CHECK(file.text == "a\nb\nc\nd");
    CHECK(file.lines == std::vector<std::string>{"a", "b", "c", "d"});
    CHECK(split_text("").lines == std::vector<std::string>{""});
    CHECK(split_text("a\n").lines == std::vector<std::string>{"a", ""});
  }

  TEST_CASE("bytes that are not UTF-8 are found where they stand") {
    // Overlong forms, surrogates, beyond U+10FFFF, stray and missing continuation bytes.
    for (const char* bytes :
         {"\xC0\xAF", "\xE0\x80\xAF", "\xF0\x80\x80\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80",
          "\xF5\x80\x80\x80", "\x80", "\xC3", "\xE2\x82", "\xC3(", "\xFF"}) {
      const auto file = split_text("ok\n\xC3\xA9" + std::string(bytes));
      CHECK(file.code == codes::not_text);
      CHECK(file.line == 2);
      CHECK(file.column == 2);
    }
    CHECK(split_text("\xF4\x8F\xBF\xBF \xED\x9F\xBF \xEF\xBF\xBD").good());
  }

  TEST_CASE("control characters other than tab and line ends are refused") {
    CHECK(split_text("a\tb\n").good());
    for (const char byte : {'\0', '\x01', '\x1b', '\x7f', '\x0c'}) {
      CHECK(split_text(std::string("ab") + byte).code == codes::not_text);
    }
  }

  TEST_CASE("UTF-16 is named as such") {
    CHECK(split_text(std::string("\xFF\xFEl\0", 4)).problem.find("UTF-16") != std::string::npos);
    CHECK(split_text(std::string("\xFE\xFF\0l", 4)).problem.find("UTF-16") != std::string::npos);
  }

  TEST_CASE("16 MiB are read and no byte more") {
    CHECK(split_text(std::string(leastwise::most_bytes, ' ')).good());
    CHECK(split_text(std::string(leastwise::most_bytes + 1, ' ')).code == codes::file_too_large);
  }

  TEST_CASE("an endless file is given up on") {
    if (!std::filesystem::exists("/dev/zero")) return;
    CHECK(read_text_file("/dev/zero").code == codes::file_too_large);
  }

  TEST_CASE("a file that another one names is no device") {
    CHECK(leastwise::read_named_file("/dev/zero").code == codes::file_unreadable);
    CHECK(leastwise::read_named_file("no-such-file.yaml").code == codes::file_missing);
    CHECK(leastwise::read_named_file(LEASTWISE_SOURCE_DIR "/CMakeLists.txt").good());
  }

  TEST_CASE("what is no readable file is told apart") {
    CHECK(read_text_file("no-such-file.yaml").code == codes::file_missing);
    CHECK(read_text_file(".").code == codes::file_unreadable);
    CHECK(read_text_file(LEASTWISE_SOURCE_DIR "/CMakeLists.txt").good());
  }
}
