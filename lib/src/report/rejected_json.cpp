#include <leastwise/report.hpp>

#include "report/blend_json.hpp"
#include "report/kit/json_values.hpp"

namespace leastwise {
namespace {

using namespace report;

std::string_view words(Severity severity) {
  switch (severity) {
    case Severity::warning:
      return "warning";
    case Severity::note:
      return "note";
    case Severity::error:
      break;
  }
  return "error";
}

}  // namespace

Json report::json_diagnostic(const Diagnostic& found) {
  Json json{{"severity", words(found.severity)},
            {"code", found.code},
            {"message", found.message},
            {"path", found.path}};
  const auto position = [&](int value) { return found.place ? Json(value) : Json(nullptr); };
  json["source"] = found.place.source.empty() ? Json(nullptr) : Json(found.place.source);
  json["line"] = position(found.place.line);
  json["column"] = position(found.place.column);
  json["width"] = position(found.place.width);
  json["line_text"] = found.line_text;
  return json;
}

std::string to_json(const InputError& error, std::string_view report) {
  Json json{{"leastwise", report_version}, {"report", report}, {"status", "rejected"}};
  json["diagnostics"] = json_array(error.diagnostics(), json_diagnostic);
  json["errors"] = error.error_count();
  return json_text(json);
}

std::string unread_to_json(std::string_view report, StopCause cause, std::string_view detail) {
  return json_text({{"leastwise", report_version},
                    {"report", report},
                    {"status", "unread"},
                    {"cause", to_string(cause)},
                    {"detail", detail}});
}

}  // namespace leastwise
