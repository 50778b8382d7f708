#include "report/kit/numbers.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace leastwise::report;

TEST_SUITE_BEGIN("numbers");

TEST_CASE("a powder of 0.8 kg/ha keeps its decimals") {
  CHECK(amount_text(0.8) == "0.800");
  CHECK(amount_text(0.0123) == "0.0123");
  CHECK(amount_text(0.00099) == "0.000990");
}

TEST_CASE("large amounts carry one decimal and no thousands separator") {
  CHECK(amount_text(1000) == "1000.0");
  CHECK(amount_text(57.384) == "57.38");
  CHECK(amount_text(1.5) == "1.50");
}

TEST_CASE("traces too small for a table keep three significant digits") {
  CHECK(amount_text(1.234e-7) == "1.23e-07");
  CHECK(amount_text(1e-15) == "0");
}

TEST_CASE("no number is ever printed as minus zero") {
  CHECK(amount_text(-0.0) == "0");
  CHECK(money_text(-0.001) == "0.00");
  CHECK(share_text(-0.01) == "0.0");
  CHECK(plain_text(-0.0) == "0");
  CHECK(price_text(-1e-15) == "0.00");
}

TEST_CASE("a limit reads as its author wrote it") {
  CHECK(plain_text(60) == "60");
  CHECK(plain_text(0.3) == "0.3");
  CHECK(plain_text(58.2000001) == "58.2");
  CHECK(plain_text(16283.4, 4) == "16283");
  CHECK(plain_text(6.325e-5, 4) == "0.00006325");
  CHECK(plain_text(-1e-7) == "-0.0000001");
}

TEST_CASE("money has two decimals, and a small price more") {
  CHECK(money_text(212.4) == "212.40");
  CHECK(price_text(1.119) == "1.12");
  CHECK(price_text(0.00871) == "0.00871");
}

TEST_CASE("a cost without a currency still says what it is per") {
  CHECK(cost_text(12.5, "USD", "ha") == "12.50 USD/ha");
  CHECK(cost_text(12.5, "", "t") == "12.50 money/t");
}

TEST_CASE("a limit rounded down or up never passes the number itself") {
  CHECK(rounded_down(85.78349) == doctest::Approx(85.783).epsilon(1e-12));
  CHECK(rounded_up(85.78349) == doctest::Approx(85.784).epsilon(1e-12));
  CHECK(rounded_up(-85.78349) == doctest::Approx(-85.783).epsilon(1e-12));
  CHECK(rounded_up(60.00000001) == 60);
  CHECK(rounded_down(0) == 0);
}

TEST_CASE("a proved bound is stated as the next power of ten above it") {
  CHECK(bound_text(0) == "1e-9");
  CHECK(bound_text(3e-17) == "1e-9");
  CHECK(bound_text(2e-8) == "1e-7");
}

TEST_CASE("rounding to twelve digits hides the noise of the last bits only") {
  CHECK(rounded(60.00000000000001).value() == 60.0);
  CHECK(rounded(1.0 / 3).value() == 0.333333333333);
  CHECK_FALSE(std::signbit(rounded(-0.0).value()));
  CHECK_FALSE(rounded(std::numeric_limits<double>::infinity()).has_value());
}

TEST_SUITE_END();
