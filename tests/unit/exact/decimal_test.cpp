#include "exact/decimal.hpp"

#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>
#include <string>

#include "exact/fingerprint.hpp"

using namespace leastwise;
using exact::decimal;
using exact::Integer;
using exact::Rational;

TEST_SUITE("decimal") {
  TEST_CASE("a decimal is taken as it is written, not as its nearest double") {
    CHECK(decimal(0.1) == Rational(1, 10));
    CHECK(decimal(37.5) == Rational(75, 2));
    CHECK(decimal(-0.00012) == Rational(-3, 25000));
    CHECK(decimal(1e9) == Rational(1000000000));
    CHECK(decimal(0.0) == 0);
    CHECK(decimal(-0.0) == 0);
    CHECK(decimal(65.409) == Rational(65409, 1000));
  }

  TEST_CASE("every number of up to 15 significant digits is recovered digit for digit") {
    std::uint64_t state = 12345;
    for (int k = 0; k < 20000; ++k) {
      state = state * 6364136223846793005U + 1442695040888963407U;
      const int digits = 1 + static_cast<int>(state >> 33U) % 15;
      std::uint64_t most = 1;
      for (int d = 0; d < digits; ++d) most *= 10;
      const auto mantissa = static_cast<long long>((state >> 11U) % most);
      const int exponent = static_cast<int>((state >> 5U) % 40) - 25;
      const std::string text = std::to_string(mantissa) + "e" + std::to_string(exponent);
      const Rational written =
          exponent < 0
              ? Rational(Integer(mantissa), exact::power_of_ten(static_cast<unsigned>(-exponent)))
              : Rational(Integer(mantissa) * exact::power_of_ten(static_cast<unsigned>(exponent)));
      CAPTURE(text);
      REQUIRE(decimal(std::strtod(text.c_str(), nullptr)) == written);
    }
  }

  TEST_CASE("the extremes of a double are recovered too") {
    for (const char* text : {"5e-324", "1.7976931348623157e308", "2.2250738585072014e-308"}) {
      const Rational value = decimal(std::strtod(text, nullptr));
      CHECK(value.convert_to<double>() ==
            doctest::Approx(std::strtod(text, nullptr)).epsilon(1e-15));
    }
  }

  TEST_CASE("fractions are written in lowest terms and read back") {
    for (const auto& value :
         {Rational(0), Rational(1, 3), Rational(-22, 7), Rational(-5), Rational(46, 100)}) {
      const auto read = exact::parse(exact::to_text(value));
      REQUIRE(read.has_value());
      CHECK(*read == value);
    }
    CHECK(exact::to_text(Rational(46, 100)) == "23/50");
    CHECK(exact::to_text(Rational(-6, 3)) == "-2");
  }

  TEST_CASE("any other spelling of a fraction is refused") {
    for (const char* text :
         {"",   "-",   "-0",   "01",  "1/0", "1/1",  "2/4",  "1/-2", "+1",    " 1",
          "1 ", "1.5", "0x10", "1e3", "0/2", "1/02", "1//2", "--1",  "1/2/3", "nan"}) {
      CAPTURE(text);
      CHECK_FALSE(exact::parse(text).has_value());
    }
    CHECK_FALSE(exact::parse(std::string(exact::longest_fraction + 1, '1')).has_value());
  }

  TEST_CASE("the digest is FNV-1a of 64 bits") {
    // Test vectors of the FNV reference code (public domain), from memory.
    CHECK(exact::digest("") == "cbf29ce484222325");
    CHECK(exact::digest("a") == "af63dc4c8601ec8c");
    CHECK(exact::digest("foobar") == "85944171f73967e8");
  }
}
