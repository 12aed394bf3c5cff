#include <nlohmann/json.hpp>

#include "core/papers/papers.h"
#include "core/papers/words.h"

namespace yw::papers {
namespace {

using Json = nlohmann::ordered_json;

std::string csvCell(const std::string& cell) {
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string out = "\"";
  for (const char c : cell) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string csvLine(const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t i = 0; i < cells.size(); ++i) out += (i == 0 ? "" : ",") + csvCell(cells[i]);
  return out + "\r\n";
}

std::string tsvLine(const std::vector<std::string>& cells) {
  std::string out;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i != 0) out += '\t';
    for (const char c : cells[i]) out += c == '\t' || c == '\n' || c == '\r' ? ' ' : c;
  }
  return out + "\n";
}

/// A number column's cell as a number where it is one, null where it is empty.
Json jsonCell(const std::string& cell, bool number) {
  if (!number) return cell;
  if (cell.empty()) return nullptr;
  const Json read = Json::parse(cell, nullptr, false);
  return read.is_number() ? read : Json(cell);
}

Json jsonTable(const Table& table) {
  Json out;
  out["name"] = table.name;
  out["title"] = table.title;
  out["columns"] = Json::array();
  for (std::size_t i = 0; i < table.keys.size(); ++i)
    out["columns"].push_back(
        {{"key", table.keys[i]}, {"head", table.heads[i]}, {"number", bool(table.numbers[i])}});
  out["rows"] = Json::array();
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    Json row;
    row["id"] = table.rowRecord[r].value;
    for (std::size_t i = 0; i < table.keys.size(); ++i)
      row[table.keys[i]] = jsonCell(table.rows[r][i], table.numbers[i]);
    out["rows"].push_back(std::move(row));
  }
  return out;
}

std::string htmlTable(const Table& table) {
  std::string out = "<h2 id=\"" + table.name + "\">" + markupText(table.title) + "</h2>\n";
  if (table.rows.empty()) return out + "<p>" + markupText(say("table_empty")) + "</p>\n";
  out += "<table>\n<thead><tr>";
  for (std::size_t i = 0; i < table.heads.size(); ++i)
    out += std::string(table.numbers[i] ? "<th class=\"n\" scope=\"col\">" : "<th scope=\"col\">") +
           markupText(table.heads[i]) + "</th>";
  out += "</tr></thead>\n<tbody>\n";
  for (const std::vector<std::string>& row : table.rows) {
    out += "<tr>";
    for (std::size_t i = 0; i < row.size(); ++i)
      out += std::string(table.numbers[i] ? "<td class=\"n\">" : "<td>") + markupText(row[i]) + "</td>";
    out += "</tr>\n";
  }
  return out + "</tbody>\n</table>\n";
}

constexpr const char* kStyle =
    "body{font-family:B612,sans-serif;margin:2em;color:#1b1d20;background:#fff}"
    "table{border-collapse:collapse;margin-bottom:2em}"
    "th,td{border:0.25mm solid #595959;padding:0.25em 0.5em;text-align:left;vertical-align:top}"
    "thead{display:table-header-group}th{font-weight:bold}"
    ".n{text-align:right;font-variant-numeric:tabular-nums}"
    "@media print{h2{break-after:avoid}tr{break-inside:avoid}}";

}  // namespace

std::string csv(const Table& table) {
  std::string out = csvLine(table.heads);
  for (const std::vector<std::string>& row : table.rows) out += csvLine(row);
  return out;
}

std::string tsv(const Table& table) {
  std::string out = tsvLine(table.heads);
  for (const std::vector<std::string>& row : table.rows) out += tsvLine(row);
  return out;
}

std::string json(const std::vector<Table>& tables) {
  Json out;
  out["format"] = "yardwright-tables";
  out["version"] = 1;
  out["tables"] = Json::array();
  for (const Table& table : tables) out["tables"].push_back(jsonTable(table));
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string html(const std::vector<Table>& tables, const std::string& title) {
  std::string out = "<!DOCTYPE html>\n<html lang=\"en-US\">\n<head>\n<meta charset=\"utf-8\">\n<title>" +
                    markupText(title) + "</title>\n<style>" + kStyle + "</style>\n</head>\n<body>\n<h1>" +
                    markupText(title) + "</h1>\n";
  for (const Table& table : tables) out += htmlTable(table);
  return out + "</body>\n</html>\n";
}

}  // namespace yw::papers
