#include "input/yaml/number.hpp"

#include <doctest/doctest.h>

#include <string>

using leastwise::read_number;
using leastwise::read_whole_number;
using namespace std::string_literals;

TEST_SUITE("numbers") {
  TEST_CASE("decimal numbers with an optional exponent are read") {
    CHECK(read_number("46").value == 46);
    CHECK(read_number("-0.5").value == -0.5);
    CHECK(read_number("+3").value == 3);
    CHECK(read_number(".3").value == 0.3);
    CHECK(read_number("3.").value == 3);
    CHECK(read_number("1e3").value == 1000);
    CHECK(read_number("1.5E-1").value == 0.15);
    CHECK(read_number("010").value == 10);
    CHECK(read_number("1e-999").value == 0);
  }

  TEST_CASE("what no double can hold is 0 or too large by its size, not by how it is written") {
    const std::string zeros(400, '0');
    for (const std::string& small :
         {std::string("1e-400"), std::string("1E-400"), std::string("-1E-400"), "0." + zeros + "1",
          "." + zeros + "1", "0." + zeros + "1e+5", "1" + zeros + "e-900",
          std::string("1e-99999999999999999999999"), "12.5e-400"s}) {
      CAPTURE(small);
      CHECK(read_number(small).value == 0);
    }
    for (const std::string& large :
         {"1" + zeros, "1" + zeros + "e-5", "-1" + zeros + "E-5", "1" + zeros + ".5", "0.0001e400"s,
          std::string("1e99999999999999999999999")}) {
      CAPTURE(large);
      CHECK_FALSE(read_number(large).value);
      CHECK(read_number(large).advice == "it is too large");
    }
    CHECK(read_number("1" + zeros + "e-400").value == 1);
    CHECK(read_number("0." + zeros + "1e401").value == 1);
    CHECK(read_number("0e99999999999999999999999").value == 0);
  }

  TEST_CASE("nothing else is a number") {
    for (const char* text :
         {"",    " ",     "-",     ".",    "e3",       "1e",    "1e+",      "0x10",
          "0o7", "0b1",   "inf",   ".inf", "nan",      ".nan",  "Infinity", "1.2.3",
          "--1", "+-1",   "1 2",   "four", "4l0",      "1e999", "-1e999",   "1,5",
          "45%", "1_000", "12 kg", "1/2",  "\xC2\xBD", "1e3.5"}) {
      CAPTURE(std::string(text));
      CHECK_FALSE(read_number(text).value);
    }
  }

  TEST_CASE("advice is given where the fix is certain") {
    CHECK(read_number("1,5").advice == "write 1.5");
    CHECK(read_number("-0,25").advice == "write -0.25");
    CHECK(read_number("0,125").advice == "write 0.125");
    CHECK(read_number("45%").advice == "write 45");
    CHECK(read_number("45 %").advice == "write 45");
    CHECK(read_number("1_000").advice == "write 1000");
    CHECK(read_number("1'000.5").advice == "write 1000.5");
    CHECK(read_number("12 kg/ha").advice == "the unit is in the key; write 12");
    CHECK(read_number("0x1F").advice == "write it in decimal digits");
    CHECK(read_number("1e999").advice == "it is too large");
  }

  TEST_CASE("no advice is given where only a person can tell") {
    CHECK(read_number("1,250").advice ==
          "write a point for decimals, and nothing between thousands");
    for (const char* text : {"", "four", "4l0", "1,2,3", "1.2.3", "%", "kg", "1.000,5"}) {
      CAPTURE(std::string(text));
      CHECK(read_number(text).advice.empty());
    }
  }

  TEST_CASE("whole numbers are decimal, also with leading zeros") {
    CHECK(read_whole_number("5") == 5);
    CHECK(read_whole_number("010") == 10);
    CHECK(read_whole_number("-3") == -3);
    CHECK(read_whole_number("999999999") == 999999999);
    for (const char* text : {"", "-", "5.0", "1e3", "0x5", "9999999999", " 5", "5 ", "five"}) {
      CAPTURE(std::string(text));
      CHECK_FALSE(read_whole_number(text));
    }
  }
}
