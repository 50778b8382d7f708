#include <leastwise/load.hpp>
#include <leastwise/report.hpp>
#include <leastwise/run.hpp>
#include <leastwise/season_load.hpp>
#include <leastwise/trial_load.hpp>

#include <string_view>

#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

char* leastwise_run(const char* command, const char* scenario, const char* options,
                    const leastwise_call* call) {
  if (command == nullptr || scenario == nullptr) return nullptr;
  try {
    leastwise::RunOptions how;
    if (call != nullptr) {
      how = call->value;
      how.limits.stop = call->stop.get_token();
    }
    return given_away(leastwise::run(command, scenario, options == nullptr ? "" : options, how));
  } catch (...) {
    return nullptr;
  }
}

char* leastwise_schema(const char* name) {
  if (name == nullptr) return nullptr;
  try {
    const std::string_view wanted = name;
    if (wanted == "scenario") return given_away(leastwise::scenario_schema());
    if (wanted == "trial") return given_away(leastwise::trial_schema());
    if (wanted == "season") return given_away(leastwise::season_schema());
    if (wanted == "reports") return given_away(leastwise::report_schemas());
    return given_away(leastwise::report_schema(wanted));
  } catch (...) {
    return nullptr;
  }
}
