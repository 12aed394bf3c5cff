#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "core/yard/codec.h"
#include "core/yard/field_value.h"
#include "core/yard/member_type.h"
#include "core/yard/nearest_word.h"

namespace yw::yard {
namespace {

using Json = nlohmann::ordered_json;
using base::Message;

std::string typeWord(const Json& value) {
  switch (value.type()) {
    case Json::value_t::null:
      return "null";
    case Json::value_t::object:
      return "a group { }";
    case Json::value_t::array:
      return "a list [ ]";
    case Json::value_t::string:
      return "text";
    case Json::value_t::boolean:
      return "true or false";
    default:
      return "a number";
  }
}

/// What was found, short enough for a sentence.
std::string shown(const Json& value) {
  if (value.is_structured() || value.is_null()) return typeWord(value);
  std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
  return text.size() <= 60 ? text : typeWord(value) + " of " + std::to_string(text.size()) + " letters";
}

/// `Did you mean "x"?` with a space before it, or nothing.
std::string suggestion(const std::string& nearest) {
  return nearest.empty() ? std::string{} : " Did you mean \"" + nearest + "\"?";
}

/// What a stored count counts, in words.
template <class T>
std::string unitWord(const T&) {
  if constexpr (std::is_same_v<T, Length>) return " nanometers";
  if constexpr (std::is_same_v<T, Angle>) return " millionths of a degree";
  if constexpr (std::is_same_v<T, Voltage>) return " microvolts";
  if constexpr (std::is_same_v<T, Current>) return " microamperes";
  if constexpr (std::is_same_v<T, Resistance>) return " micro-ohms";
  if constexpr (std::is_same_v<T, Power>) return " milliwatts";
  if constexpr (std::is_same_v<T, Ratio>) return " millionths";
  if constexpr (std::is_same_v<T, Money>) return " ten-thousandths of the currency unit";
  if constexpr (std::is_same_v<T, Duration>) return " nanoseconds";
  if constexpr (std::is_same_v<T, Frequency>) return " millihertz";
  if constexpr (std::is_same_v<T, Temperature>) return " thousandths of a degree Celsius";
  if constexpr (std::is_same_v<T, Mass>) return " milligrams";
  if constexpr (std::is_same_v<T, Speed>) return " millimeters a second";
  if constexpr (std::is_same_v<T, Area>) return " square millimeters";
  return "";
}

/// Fills members from one JSON object; stops at the first thing that does not fit.
class Reader {
 public:
  /// `alsoKnown`: members that are there and that are no fields.
  Reader(const Json& object, std::string path, std::vector<const char*> alsoKnown)
      : object_(object), path_(std::move(path)), known_(std::move(alsoKnown)) {}

  template <class T>
  void operator()(const Field& field, T& value) {
    known_.push_back(field.name);
    const auto found = object_.find(field.name);
    if (found == object_.end() || failed()) return;
    ++taken_;
    const std::string outer = path_;
    if (!path_.empty()) path_ += '.';
    path_ += field.name;
    read(field, *found, value);
    if (!failed()) path_ = outer;
  }
  /// After all fields: is there one that nobody asked for?
  void checkUnknown() {
    if (failed() || taken_ == object_.size()) return;
    for (const auto& [name, value] : object_.items()) {
      if (std::find(known_.begin(), known_.end(), name) != known_.end()) continue;
      path_ += (path_.empty() ? "" : ".") + name;
      return fail(
          {"record_unknown_field",
           {{"name", name}, {"suggestion", suggestion(nearestWord(name, {known_.begin(), known_.end()}))}}});
    }
  }
  bool failed() const { return !message_.key.empty(); }
  const Message& message() const { return message_; }
  const std::string& path() const { return path_; }

 private:
  void fail(Message message) { message_ = std::move(message); }
  void wrongType(const Json& found, const char* wanted) {
    fail({"record_wrong_type", {{"found", shown(found)}, {"wanted", std::string(wanted)}}});
  }

  void readNumber(const Field& field, const Json& json, std::int64_t& value, const std::string& unit) {
    if (json.is_number_float())
      return fail({"record_not_whole", {{"found", shown(json)}, {"of", unit.empty() ? unit : " of" + unit}}});
    if (!json.is_number_integer()) return wrongType(json, "a whole number");
    const bool tooLarge = json.is_number_unsigned() && json.get<std::uint64_t>() > INT64_MAX;
    const auto number = tooLarge ? INT64_MAX : json.get<std::int64_t>();
    if (tooLarge || number < leastOf(field) || number > mostOf(field))
      return fail({"record_out_of_limits",
                   {{"found", shown(json)},
                    {"least", std::to_string(leastOf(field))},
                    {"most", std::to_string(mostOf(field))},
                    {"unit", unit}}});
    value = number;
  }
  void read(const Field& field, const Json& json, std::int64_t& value) { readNumber(field, json, value, ""); }
  template <class Tag>
  void read(const Field& field, const Json& json, base::Exact<Tag>& value) {
    readNumber(field, json, value.count, unitWord(value));
  }
  void read(const Field&, const Json& json, bool& value) {
    if (!json.is_boolean()) return wrongType(json, "true or false");
    value = json.get<bool>();
  }
  void read(const Field&, const Json& json, std::string& value) {
    if (!json.is_string()) return wrongType(json, "text in quotes");
    value = json.get<std::string>();
  }
  void read(const Field&, const Json& json, Id& value) {
    readNumber(Field{"", "", "", {}, false, 0}, json, value.value, "");
  }
  void read(const Field&, const Json& json, Point& value) {
    if (!json.is_array() || json.size() != 2) return wrongType(json, "a place [x,y]");
    const Field any{"", ""};
    read(any, json[0], value.x);
    if (!failed()) read(any, json[1], value.y);
  }
  template <class T>
  requires std::is_enum_v<T>
  void read(const Field&, const Json& json, T& value) {
    const auto& all = words(T{});
    if (!json.is_string()) return wrongType(json, "a word in quotes");
    const auto word = json.get<std::string>();
    std::vector<std::string> known;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (word == all[i].name) return void(value = static_cast<T>(i));
      known.emplace_back(all[i].name);
    }
    fail({"record_unknown_word",
          {{"found", shown(json)},
           {"known", listed(known)},
           {"suggestion", suggestion(nearestWord(word, known))}}});
  }
  template <class V>
  void read(const Field& field, const Json& json, std::map<std::string, V>& values) {
    if (!json.is_object()) return wrongType(json, "a group { }");
    values.clear();
    const std::string outer = path_;
    for (const auto& [name, item] : json.items()) {
      path_ = outer;
      path_ += '.';
      path_ += name;
      read(field, item, values[name]);
      if (failed()) return;
    }
    path_ = outer;
  }
  template <class T>
  void read(const Field& field, const Json& json, std::vector<T>& items) {
    if (!json.is_array()) return wrongType(json, "a list [ ]");
    items.assign(json.size(), T{});
    const std::string outer = path_;
    for (std::size_t i = 0; i < items.size(); ++i) {
      path_ = outer + '[' + std::to_string(i) + ']';
      read(field, json[i], items[i]);
      if (failed()) return;
    }
    path_ = outer;
  }
  template <class T>
  requires kIsNested<T>
  void read(const Field&, const Json& json, T& value) {
    if (!json.is_object()) return wrongType(json, "a group { }");
    Reader inner(json, path_, {});
    eachField(value, inner);
    inner.checkUnknown();
    if (!inner.failed()) return;
    path_ = inner.path_;
    message_ = inner.message_;
  }
  static std::string listed(const std::vector<std::string>& known) {
    std::string out;
    for (const std::string& word : known) out += (out.empty() ? "" : ", ") + word;
    return out;
  }

  const Json& object_;
  std::string path_;
  std::vector<const char*> known_;
  std::size_t taken_ = known_.size();  ///< members that some field asked for
  Message message_;
};

/// Notices a name that stands twice in one group, which JSON libraries pass over in silence.
class DoubledNames {
 public:
  bool operator()(int, Json::parse_event_t event, Json& parsed) {
    if (event == Json::parse_event_t::object_start) open_.emplace_back();
    if (event == Json::parse_event_t::object_end) open_.pop_back();
    if (event == Json::parse_event_t::key && !open_.back().insert(parsed.get<std::string>()).second &&
        name_.empty())
      name_ = parsed.get<std::string>();
    return true;
  }
  const std::string& name() const { return name_; }

 private:
  std::vector<std::set<std::string>> open_;
  std::string name_;
};

/// `prop 12 (Arch 2)`: which record an error speaks of.
std::string recordName(const Json& json, const std::string& kind, std::int64_t id) {
  std::string out = kind;
  std::replace(out.begin(), out.end(), '_', ' ');
  if (id > 0) out += ' ' + std::to_string(id);
  const auto name = json.find("name");
  if (name != json.end() && name->is_string() && !name->get<std::string>().empty())
    out += " (" + name->get<std::string>() + ')';
  return out;
}

tl::unexpected<base::Error> refuse(Message message, std::string where = {}) {
  return base::fail(base::ErrorCode::Unreadable, std::move(message), std::move(where));
}

base::Result<Json> parsed(const std::string& text) {
  DoubledNames doubled;
  try {
    Json json = Json::parse(text, [&](int depth, Json::parse_event_t event, Json& value) {
      return doubled(depth, event, value);
    });
    if (!json.is_object()) return refuse({"record_not_a_group", {{"found", typeWord(json)}}});
    if (!doubled.name().empty()) return refuse({"record_doubled_name", {{"name", doubled.name()}}});
    return json;
  } catch (const Json::exception&) {
    return refuse({"record_not_json", {}});
  }
}

base::Result<std::size_t> kindIndex(const Json& json) {
  const auto kind = json.find("kind");
  if (kind == json.end()) return refuse({"record_no_kind", {}}, "field kind");
  if (!kind->is_string())
    return refuse(
        {"record_wrong_type", {{"found", shown(*kind)}, {"wanted", std::string("a word in quotes")}}},
        "field kind");
  const auto word = kind->get<std::string>();
  std::vector<std::string> known;
  for (std::size_t i = 0; i < kindWords().size(); ++i) {
    if (word == kindWords()[i].name) return i;
    known.emplace_back(kindWords()[i].name);
  }
  return refuse({"record_unknown_kind",
                 {{"found", shown(*kind)}, {"suggestion", suggestion(nearestWord(word, known))}}},
                "field kind");
}

base::Result<Id> idOf(const Json& json) {
  const auto id = json.find("id");
  if (id == json.end()) return refuse({"record_no_id", {}}, "field id");
  const bool whole =
      id->is_number_integer() && !(id->is_number_unsigned() && id->get<std::uint64_t>() > kLargestNumber);
  if (!whole || id->get<std::int64_t>() < 1)
    return refuse({"record_bad_id", {{"found", shown(*id)}}}, "field id");
  return Id{id->get<std::int64_t>()};
}

}  // namespace

base::Result<std::pair<Id, Record>> decode(const std::string& text) {
  const auto json = parsed(text);
  if (!json) return tl::unexpected(json.error());
  const auto kind = kindIndex(*json);
  const auto id = idOf(*json);
  const std::string name = recordName(*json, kind ? kindWords()[*kind].name : "record", id ? id->value : 0);
  for (const base::Error* error : {kind ? nullptr : &kind.error(), id ? nullptr : &id.error()})
    if (error != nullptr) return refuse(error->message, name + ", " + error->where);
  Record record = defaultRecord(static_cast<RecordKind>(*kind));
  Reader reader(*json, "", {"id", "kind"});
  std::visit([&](auto& r) { eachField(r, reader); }, record);
  reader.checkUnknown();
  if (reader.failed()) return refuse(reader.message(), name + ", field " + reader.path());
  return std::pair{*id, std::move(record)};
}

}  // namespace yw::yard
