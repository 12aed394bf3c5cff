// Each sample yard from bare props and boxes, planned as `yardwright propose` does it, then checked.
#include <filesystem>

#include "core/file/yard_file.h"
#include "core/findings/findings.h"
#include "core/propose/whole_plan.h"
#include "tests/outside/rows.h"

namespace yw::checks {

namespace {

/// Without runs, and so without addresses, and without cables.
yard::Yard bare(const yard::Yard& yard) {
  edit::Editor editor(yard);
  std::vector<base::Id> gone;
  for (const auto& [id, run] : yard::all<yard::Run>(yard)) gone.push_back(id);
  for (const auto& [id, cable] : yard::all<yard::Cable>(yard)) gone.push_back(id);
  editor.remove(gone);
  return editor.yard();
}

void plan(const std::filesystem::path& path, Rows& rows) {
  const std::string name = path.stem().string() + " planned from bare: ";
  const std::string source = "the rules of core/findings";
  const auto opened = file::open(path);
  if (!opened) {
    rows.push_back({name + "opens", "the yard file itself", 1.0, 0.0, 0.0});
    return;
  }
  std::set<std::string> all;
  for (const propose::PlanPart& part : propose::planParts()) all.insert(part.key);
  const propose::WholePlan whole = propose::planWhole(assess::assess(bare(opened->yard)), all, false);
  double cannot = 0.0, unwired = 0.0;
  for (const auto& made : whole.parts) cannot += static_cast<double>(made.plan.cannot.size());
  for (const auto& [prop, pixels] : whole.after->unwired) unwired += static_cast<double>(pixels);
  const findings::Report report = findings::report(*whole.after);
  const auto left = [&](findings::Severity severity) {
    return static_cast<double>(findings::countOf(report, severity));
  };
  rows.push_back({name + "limits that cannot be met", source, 0.0, cannot, 0.0});
  rows.push_back({name + "pixels without a port", source, 0.0, unwired, 0.0});
  rows.push_back({name + "findings of Danger", source, 0.0, left(findings::Severity::Danger), 0.0});
  rows.push_back({name + "findings of Won't work", source, 0.0, left(findings::Severity::WontWork), 0.0});
}

}  // namespace

Rows plannedRows() {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(YARDWRIGHT_ROOT "/sample-yards"))
    if (entry.path().extension() == ".yard") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  Rows rows;
  for (const auto& path : paths) plan(path, rows);
  return rows;
}

}  // namespace yw::checks
