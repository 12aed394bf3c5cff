#pragma once
#include <functional>
#include <string>
#include <vector>

#include "core/findings/findings.h"
#include "core/papers/drawing.h"
#include "core/propose/propose.h"

namespace yw::papers {

using base::Id;

/// A table as sheets, CSV, JSON and the window show it. Cells are finished text; `numbers` marks
/// right-aligned columns.
struct Table {
  std::string name;                  ///< `lead_cut_list`: file name
  std::string title;                 ///< `Lead cut list`
  std::vector<std::string> columns;  ///< keys without their unit: `cut`
  std::vector<std::string> keys;     ///< JSON keys: `cut_ft`
  std::vector<std::string> heads;    ///< with the unit: `Cut, ft`
  std::vector<bool> numbers;
  std::vector<std::vector<std::string>> rows;
  std::vector<Id> rowRecord;  ///< what each row stands for
};

/// The yard's tables: feeds, supplies_fuses, lead_cut_list, addresses, parts, ports, runs, props,
/// house_circuits, mains_cords, box_heat, fuse_choice, levels, boxes, controllers.
std::vector<Table> tables(const assess::Assessment& assessment, const findings::Report& report);
/// Name and title of each of them, in the same order.
std::vector<std::pair<std::string, std::string>> tableNames();
/// One of them by its name; a table without columns for a name that is none of them.
Table table(const assess::Assessment& assessment, const std::string& name);
/// One finding a row: severity, rule, subject, sentence, figure, limit, used, source, remedy or advice.
Table findingsTable(const assess::Assessment& assessment, const findings::Report& report);
std::string csv(const Table& table);  ///< RFC 4180, UTF-8, CRLF, no BOM
std::string json(const std::vector<Table>& tables);
std::string tsv(const Table& table);

/// What to print.
struct SheetRequest {
  yard::SheetKind kind;
  Id subject;  ///< BoxPage, RunPage, Build
};
/// All sheets of the yard in printing order.
std::vector<SheetRequest> sheetsOf(const assess::Assessment& assessment);
/// A build sheet for each prop of the yard that can be made, by label; props built alike share one. Not among
/// sheetsOf(): they are for the bench, not for the yard.
std::vector<SheetRequest> buildSheetsOf(const assess::Assessment& assessment);
std::string sheetTitle(const assess::Assessment& assessment, const SheetRequest& request);
std::vector<std::string> sheetTitles(const assess::Assessment& assessment,
                                     const std::vector<SheetRequest>& requests);

/// The pages of some sheets as one document: `page n of N` counts them together; title block, revision,
/// 'replaces', 'Not checked:' and cautions on each. `goesOn` (may be empty) is asked before each sheet, with
/// how many are laid out; false stops it, and the document is empty.
Document document(const assess::Assessment& assessment, const findings::Report& report,
                  const std::vector<SheetRequest>& requests,
                  const std::function<bool(std::size_t)>& goesOn = {});

/// The yard's plan as a drawing for the screen and the map: `scale` is mm of paper per metre of yard;
/// `origin` is the plan place at the sheet's lower left of the frame. The same items both places use.
struct PlanView {
  double scale = 10.0;
  base::Vec2 lowerLeft;  ///< plan place shown at `frame`'s lower left
  double frameX = 0, frameY = 0, frameWidth = 100, frameHeight = 100;  ///< mm on the page
  bool pixels = true, cables = true, labels = true;
};
std::vector<Item> plan(const assess::Assessment& assessment, const PlanView& view);

/// SVG of a page (for --format svg and HTML); B612 named, not embedded.
std::string svg(const Page& page);
std::string html(const std::vector<Table>& tables, const std::string& title);

/// Hash of a sheet's content without page furniture, for revisions and 'print again'.
std::string contentHash(const Document& document);

/// Where a sheet stands: what issuing it now would record.
struct Revision {
  std::int64_t number = 1;    ///< one more than the last issue if its content has changed since
  std::int64_t replaces = 0;  ///< 0: nothing
  std::string date;           ///< of the plan; empty: not known
  std::string hash;           ///< contentHash of the sheet by itself
  bool issued = false;        ///< went out with just this content
};
Revision revisionOf(const assess::Assessment& assessment, const findings::Report& report,
                    const SheetRequest& request);

/// The `check` report: text for people, JSON for programs (format `yardwright-check`, version 1).
std::string checkText(const assess::Assessment& assessment, const findings::Report& report);
std::string checkJson(const assess::Assessment& assessment, const findings::Report& report);

}  // namespace yw::papers
