#include <fmt/format.h>

#include <algorithm>

#include "core/base/hash.h"
#include "core/papers/sheets/sheets.h"

namespace yw::papers {
namespace {

using yard::SheetKind;

const char* wordOf(SheetKind kind) { return yard::words(kind)[static_cast<std::size_t>(kind)].name; }

/// Records of the whole yard stand for what no single record does.
Id subjectOf(const Digest& d, const SheetRequest& request) {
  if (request.subject) return request.subject;
  const Id site = yard::siteId(d.y);
  return site ? site : Id{1};
}

std::string titleOf(const Digest& d, const SheetRequest& request) {
  return say(std::string("sheet_") + wordOf(request.kind),
             {{"subject",
               request.kind == SheetKind::RunPage ? d.runName(request.subject) : d.label(request.subject)}});
}

/// Names of products and supplies whose assumed figures stand on that sheet with an asterisk.
std::string assumedLine(const Digest& d, const SheetRequest& request) {
  std::set<std::string> names;
  const auto takeRun = [&](Id run) { names.merge(d.assumedProducts(run)); };
  const auto takeSupply = [&](Id id) {
    if (d.assumedSupply(id)) names.insert(d.label(id));
  };
  switch (request.kind) {
    case SheetKind::RunPage:
      takeRun(request.subject);
      break;
    case SheetKind::BoxPage:
      for (const Id run : d.runs())
        if (yard::boxOf(d.y, yard::find<yard::Run>(d.y, run)->port) == request.subject) takeRun(run);
      for (const Id feed : d.feeds())
        if (yard::boxOf(d.y, yard::find<yard::Cable>(d.y, feed)->from.record) == request.subject)
          takeRun(d.runOfFeed(feed));
      for (const Id supply : d.suppliesIn(request.subject)) takeSupply(supply);
      break;
    case SheetKind::Feeds:
      for (const Id feed : d.feeds()) takeRun(d.runOfFeed(feed));
      break;
    case SheetKind::Supplies:
      for (const Id feed : d.feeds()) takeRun(d.runOfFeed(feed));
      for (const auto& [id, supply] : yard::all<yard::Supply>(d.y)) takeSupply(id);
      break;
    default:
      break;
  }
  constexpr std::size_t kMost = 4;
  std::string list;
  std::size_t n = 0;
  for (const std::string& name : names)
    if (++n <= kMost) list += (list.empty() ? "" : ", ") + name;
  if (names.size() > kMost)
    list = say("and_more", {{"names", list}, {"count", static_cast<std::int64_t>(names.size() - kMost)}});
  return list.empty() ? "" : say("assumed_line", {{"names", list}});
}

std::string planState(const findings::Report& report) {
  std::int64_t danger = 0, wontWork = 0;
  for (const findings::Finding& finding : report.findings) {
    danger += finding.severity == findings::Severity::Danger ? 1 : 0;
    wontWork += finding.severity == findings::Severity::WontWork ? 1 : 0;
  }
  if (danger + wontWork == 0) return {};
  return say("plan_state", {{"danger", danger}, {"wont_work", wontWork}});
}

SheetFrame frameOf(const Digest& d, const findings::Report& report, const SheetRequest& request) {
  SheetFrame frame;
  frame.title = titleOf(d, request);
  frame.yardName = d.yardName();
  frame.cautions =
      say(std::string("caution_") + wordOf(request.kind)) + " " +
      say("caution_all",
          {{"code",
            std::string(yard::words(d.set.codeEdition)[static_cast<std::size_t>(d.set.codeEdition)].label)}});
  frame.notChecked = say("not_checked_line", {{"what", say("not_checked")}});
  frame.planState = planState(report);
  frame.assumed = assumedLine(d, request);
  return frame;
}

SheetPages filledAs(const Digest& d, const findings::Report& report, const SheetRequest& request,
                    double tight) {
  SheetPages sheet(d.set.paper, subjectOf(d, request), frameOf(d, report, request), tight);
  switch (request.kind) {
    case SheetKind::Map:
      fillMap(sheet, d);
      break;
    case SheetKind::HouseFront:
      fillHouseFront(sheet, d);
      break;
    case SheetKind::Zone:
      fillZones(sheet, d);
      break;
    case SheetKind::BoxPage:
      fillBoxPage(sheet, d, report, request.subject);
      break;
    case SheetKind::RunPage:
      fillRunPage(sheet, d, report, request.subject);
      break;
    case SheetKind::Feeds:
      fillFeeds(sheet, d);
      break;
    case SheetKind::Supplies:
      fillSupplies(sheet, d);
      break;
    case SheetKind::CutList:
      fillCutList(sheet, d);
      break;
    case SheetKind::Addresses:
      fillAddresses(sheet, d);
      break;
    case SheetKind::Parts:
      fillParts(sheet, d);
      break;
    case SheetKind::Build:
      fillBuildSheet(sheet, d, request.subject);
      break;
  }
  return sheet;
}

/// The sheet, set tighter where that spares a last page of a few lines.
SheetPages filled(const Digest& d, const findings::Report& report, const SheetRequest& request) {
  constexpr double kTighter[] = {0.92, 0.84, 0.78};  // choice; a row of 7 mm still holds a tick box
  constexpr double kFewLines = 0.45;                 // of a page
  SheetPages sheet = filledAs(d, report, request, 1.0);
  if (sheet.count() > 1 && sheet.y - sheet.content().y < kFewLines * sheet.content().h)
    for (const double tight : kTighter) {
      SheetPages other = filledAs(d, report, request, tight);
      if (other.count() >= sheet.count()) continue;
      sheet = std::move(other);
      break;
    }
  for (Page& page : sheet.pages()) settle(page.items);
  return sheet;
}

/// A request the yard can answer: its box or run is there.
bool answerable(const Digest& d, const SheetRequest& request) {
  if (request.kind == SheetKind::BoxPage) return yard::find<yard::Box>(d.y, request.subject) != nullptr;
  if (request.kind == SheetKind::RunPage) return yard::find<yard::Run>(d.y, request.subject) != nullptr;
  if (request.kind == SheetKind::Build) return d.a.shapes.contains(request.subject);
  return true;
}

std::string hashOf(const std::vector<Page>& pages) {
  std::string content;
  for (const Page& page : pages) {
    content += fmt::format("page {:.3f} {:.3f}\n", page.width, page.height);
    for (const Item& item : page.items) {
      if (!item.record) continue;
      content +=
          fmt::format("{} {} {} {:.3f} {} {}{}{} {:.4f} {:.3f} {}{} {} {:.3f}", static_cast<int>(item.type),
                      item.record.value, static_cast<int>(item.role), item.width, static_cast<int>(item.dash),
                      int(item.filled), int(item.hatched), int(item.arrow), item.magnitude, item.size,
                      int(item.bold), int(item.mono), static_cast<int>(item.align), item.turn);
      for (const Mm p : item.points) content += fmt::format(" {:.2f},{:.2f}", p.x + 0.0, p.y + 0.0);
      content += " " + item.text + "\n";
    }
  }
  return base::sha256(content);
}

const yard::IssuedSheet* lastIssue(const Digest& d, const SheetRequest& request) {
  const yard::IssuedSheet* last = nullptr;
  for (const auto& [id, issue] : yard::all<yard::IssuedSheet>(d.y))
    if (issue->sheet == request.kind && issue->subject == request.subject &&
        (last == nullptr || issue->revision >= last->revision))
      last = issue;
  return last;
}

/// The plan's newest date: of the latest issue, else when set-up begins.
std::string planDate(const Digest& d) {
  std::string date;
  for (const auto& [id, issue] : yard::all<yard::IssuedSheet>(d.y)) date = std::max(date, issue->date);
  return date.empty() ? yard::site(d.y).setUpDate : date;
}

SheetAge ageOf(const Digest& d, const SheetRequest& request, const std::string& hash) {
  const yard::IssuedSheet* last = lastIssue(d, request);
  if (last == nullptr) return {1, 0, planDate(d)};
  if (last->hash == hash)
    return {last->revision, last->revision - 1, last->date.empty() ? planDate(d) : last->date};
  return {last->revision + 1, last->revision, planDate(d)};
}

}  // namespace

std::vector<SheetRequest> sheetsOf(const assess::Assessment& assessment) {
  const Digest d(assessment);
  std::vector<SheetRequest> sheets{{SheetKind::Map, {}}};
  if (mapIsCrowded(d)) sheets.push_back({SheetKind::Zone, {}});
  if (wallsCarry(d)) sheets.push_back({SheetKind::HouseFront, {}});
  for (const Id box : d.boxes()) sheets.push_back({SheetKind::BoxPage, box});
  for (const Id run : d.runs()) sheets.push_back({SheetKind::RunPage, run});
  if (!d.feeds().empty()) sheets.push_back({SheetKind::Feeds, {}});
  if (!yard::all<yard::Supply>(d.y).empty()) sheets.push_back({SheetKind::Supplies, {}});
  if (!assessment.routes.cables.empty()) sheets.push_back({SheetKind::CutList, {}});
  if (!d.runs().empty()) sheets.push_back({SheetKind::Addresses, {}});
  sheets.push_back({SheetKind::Parts, {}});
  return sheets;
}

std::vector<SheetRequest> buildSheetsOf(const assess::Assessment& assessment) {
  const Digest d(assessment);
  std::vector<Id> props;
  for (const auto& [id, shape] : assessment.shapes) {
    const auto* prop = yard::find<yard::Prop>(assessment.yard, id);
    if (prop && prop->status != yard::PropStatus::NotThisYear) props.push_back(id);
  }
  std::sort(props.begin(), props.end(), [&](Id a, Id b) { return naturalLess(d.label(a), d.label(b)); });
  std::vector<SheetRequest> sheets;
  for (const Id id : props) {
    const auto alike = std::any_of(sheets.begin(), sheets.end(),
                                   [&](const SheetRequest& s) { return builtAlike(d, s.subject, id); });
    if (!alike) sheets.push_back({SheetKind::Build, id});
  }
  return sheets;
}

std::string sheetTitle(const assess::Assessment& assessment, const SheetRequest& request) {
  return titleOf(Digest(assessment), request);
}

std::vector<std::string> sheetTitles(const assess::Assessment& assessment,
                                     const std::vector<SheetRequest>& requests) {
  const Digest d(assessment);
  std::vector<std::string> titles;
  for (const SheetRequest& request : requests) titles.push_back(titleOf(d, request));
  return titles;
}

Document document(const assess::Assessment& assessment, const findings::Report& report,
                  const std::vector<SheetRequest>& requests, const std::function<bool(std::size_t)>& goesOn) {
  const Digest d(assessment);
  std::vector<SheetPages> sheets;
  std::vector<SheetAge> ages;
  std::vector<SheetPlace> places;
  std::size_t total = 0;
  for (const SheetRequest& request : requests) {
    if (goesOn && !goesOn(places.size())) return {};
    places.push_back({total, {}});
    if (!answerable(d, request)) continue;
    SheetPages sheet = filled(d, report, request);
    // Foot lines that belong to the content count for the hash as they do on a page by itself.
    SheetPages alone = sheet;
    drawFrames(alone, {}, 1, alone.count());
    for (Page& page : alone.pages()) settle(page.items);
    places.back().hash = hashOf(alone.pages());
    ages.push_back(ageOf(d, request, places.back().hash));
    total += sheet.count();
    sheets.push_back(std::move(sheet));
  }
  Document out;
  out.title = say("document_title",
                  {{"yard", d.yardName()},
                   {"sheet", requests.size() == 1 ? titleOf(d, requests.front()) : say("all_sheets")}});
  out.date = planDate(d);
  out.sheets = std::move(places);
  std::size_t first = 1;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    drawFrames(sheets[i], ages[i], first, total);
    first += sheets[i].count();
    for (Page& page : sheets[i].pages()) {
      settle(page.items);
      out.pages.push_back(std::move(page));
    }
  }
  return out;
}

std::string contentHash(const Document& document) { return hashOf(document.pages); }

Revision revisionOf(const assess::Assessment& assessment, const findings::Report& report,
                    const SheetRequest& request) {
  const Digest d(assessment);
  const std::string hash = contentHash(document(assessment, report, {request}));
  const SheetAge age = ageOf(d, request, hash);
  const yard::IssuedSheet* last = lastIssue(d, request);
  return {age.revision, age.replaces, age.date, hash, last != nullptr && last->hash == hash};
}

}  // namespace yw::papers
