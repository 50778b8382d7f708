// A C++ program without exceptions and run-time types, through the C interface.
#include <leastwise/leastwise.h>

#include <cstdio>
#include <cstring>
#include <memory>

namespace {

struct Free {
  void operator()(char* text) const { leastwise_text_free(text); }
  void operator()(leastwise_call* call) const { leastwise_call_free(call); }
};

constexpr const char* scenario =
    R"({"leastwise": 1, "materials": {"urea": {"price_per_t": 455}}, "grade_percent": {"N": {"min": 20}}})";

}  // namespace

int main() {
  const std::unique_ptr<leastwise_call, Free> call(leastwise_call_new());
  if (leastwise_call_time_limit(call.get(), 60) != LEASTWISE_OK) return 1;
  const std::unique_ptr<char, Free> report(
      leastwise_run("blend", scenario, R"({"intervals": false})", call.get()));
  if (!report || std::strstr(report.get(), "\"status\": \"optimal\"") == nullptr) return 1;
  std::puts("as expected");
  return 0;
}
