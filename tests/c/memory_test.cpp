// Memory that runs out is a result code: no exception leaves the C interface. Solving and JSON are
// not among the cases: what they are built on does not survive its own failed allocations
// (leastwise.h says so).
#include <doctest/doctest.h>
#include <leastwise/leastwise.h>

#include <cstdlib>
#include <cstring>
#include <new>
#include <string>

namespace {

/// How many allocations succeed before one fails; below 0 none fails.
thread_local long allowance = -1;

bool refused() {
  if (allowance < 0) return false;
  if (allowance == 0) return true;
  --allowance;
  return false;
}

}  // namespace

void* operator new(std::size_t size) {
  if (refused()) throw std::bad_alloc();
  if (void* memory = std::malloc(size == 0 ? 1 : size)) return memory;
  throw std::bad_alloc();
}

void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  return refused() ? nullptr : std::malloc(size == 0 ? 1 : size);
}

void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

namespace {

constexpr const char* text = R"(leastwise: 1
title: Memory that runs out
currency: USD
materials:
  urea: {price_per_t: 455}
  map: {price_per_t: 665}
  mop: {price_per_t: 395}
rates_kg_per_ha: {N: {min: 60}, P2O5: {min: 46}, K2O: {exactly: 30}}
)";

/// Calls with one allocation more each time until the call succeeds; how many that took.
template <class Call>
long allocations_until_ok(const Call& call) {
  for (long allowed = 0;; ++allowed) {
    allowance = allowed;
    const leastwise_result result = call();
    allowance = -1;
    if (result == LEASTWISE_OK) return allowed;
    REQUIRE_EQ(result, LEASTWISE_OUT_OF_MEMORY);
    REQUIRE_LT(allowed, 1'000'000);
  }
}

}  // namespace

TEST_SUITE("memory that runs out") {
  TEST_CASE("while a scenario is read") {
    leastwise_scenario* scenario = nullptr;
    leastwise_error* error = nullptr;
    const long needed = allocations_until_ok([&] {
      leastwise_error_free(error);
      const auto result =
          leastwise_scenario_parse(text, std::strlen(text), nullptr, &scenario, &error);
      if (result != LEASTWISE_OK) {
        CHECK_EQ(scenario, nullptr);
        CHECK_EQ(std::string(leastwise_error_text(error)), "out of memory\n");
      }
      return result;
    });
    CHECK_GT(needed, 100);
    CHECK_EQ(error, nullptr);
    leastwise_scenario_free(scenario);
  }

  TEST_CASE("while an error is described") {
    leastwise_scenario* scenario = nullptr;
    for (long allowed = 0;; ++allowed) {
      leastwise_error* error = nullptr;
      allowance = allowed;
      const auto result =
          leastwise_scenario_parse("leastwise: 1\nx: 2\n", 18, nullptr, &scenario, &error);
      allowance = -1;
      const bool described = result == LEASTWISE_INPUT_REJECTED;
      CHECK_EQ(leastwise_error_result(error), result);
      leastwise_error_free(error);
      if (described) break;
      REQUIRE_EQ(result, LEASTWISE_OUT_OF_MEMORY);
    }
  }

  TEST_CASE("while settings are made") {
    leastwise_call* call = leastwise_call_new();
    const auto long_name = std::string(100, 'x');
    CHECK_GT(allocations_until_ok([&] { return leastwise_call_name(call, long_name.c_str()); }), 0);
    CHECK_GT(
        allocations_until_ok([&] { return leastwise_call_folder(call, long_name.c_str(), 0); }), 0);
    leastwise_call_free(call);
    allowance = 0;
    CHECK_EQ(leastwise_call_new(), nullptr);
    CHECK_EQ(leastwise_run("blnd", text, nullptr, nullptr), nullptr);
    allowance = -1;
  }

  TEST_CASE("while an answer is reported") {
    leastwise_scenario* scenario = nullptr;
    leastwise_answer* answer = nullptr;
    REQUIRE_EQ(
        leastwise_scenario_parse(text, std::strlen(text), nullptr, &scenario, nullptr),
        LEASTWISE_OK);
    REQUIRE_EQ(leastwise_formulate(scenario, nullptr, &answer, nullptr), LEASTWISE_OK);
    for (const auto report : {leastwise_answer_to_text, leastwise_answer_to_csv}) {
      char* page = nullptr;
      long allowed = 0;
      for (; page == nullptr; ++allowed) {
        REQUIRE_LT(allowed, 1'000'000);
        allowance = allowed;
        page = report(answer);
        allowance = -1;
      }
      CHECK_GT(allowed, 1);
      char* undisturbed = report(answer);
      CHECK_EQ(std::string(page), std::string(undisturbed));
      leastwise_text_free(page);
      leastwise_text_free(undisturbed);
    }
    leastwise_answer_free(answer);
    leastwise_scenario_free(scenario);
  }
}
