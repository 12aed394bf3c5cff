#include "core/yard/member_type.h"
#include "core/yard/yard.h"

namespace yw::yard {
namespace {

/// Walks the members and collects every id that is not 'none', with the path of its field.
class Collector {
 public:
  template <class T>
  void operator()(const Field& field, const T& value) {
    const std::size_t mark = path_.size();
    if (!path_.empty()) path_ += '.';
    path_ += field.name;
    visit(field, value);
    path_.resize(mark);
  }
  std::vector<Reference> found;

 private:
  template <class T>
  void visit(const Field& field, const T& value) {
    if constexpr (std::is_same_v<T, Id>) {
      if (value) found.push_back({value, path_, field.refersTo});
    } else if constexpr (std::is_same_v<T, Terminal>) {
      if (value.record) found.push_back({value.record, path_ + ".record", kindsOf(value.kind)});
    } else if constexpr (IsList<T>::value) {
      visitItems(field, value);
    } else if constexpr (kIsNested<T>) {
      eachField(value, *this);
    }
  }
  template <class T>
  void visitItems(const Field& field, const std::vector<T>& items) {
    for (std::size_t i = 0; i < items.size(); ++i) {
      const std::size_t mark = path_.size();
      path_ += '[' + std::to_string(i) + ']';
      visit(field, items[i]);
      path_.resize(mark);
    }
  }
  std::string path_;
};

}  // namespace

std::vector<RecordKind> kindsOf(TerminalKind kind) {
  switch (kind) {
    case TerminalKind::None:
      return {};
    case TerminalKind::Port:
      return {RecordKind::Port};
    case TerminalKind::FusePosition:
      return {RecordKind::FusePosition};
    case TerminalKind::PropPixel:
    case TerminalKind::PropIn:
    case TerminalKind::PropOut:
      return {RecordKind::Prop};
    case TerminalKind::Supply:
      return {RecordKind::Supply};
    case TerminalKind::Outlet:
      return {RecordKind::Outlet};
    case TerminalKind::Controller:
      return {RecordKind::Controller};
    case TerminalKind::Receiver:
      return {RecordKind::Receiver};
    case TerminalKind::Box:
      return {RecordKind::Box};
  }
  return {};
}

std::vector<Reference> referencesWithFields(const Record& record) {
  Collector collector;
  std::visit([&](const auto& r) { eachField(r, collector); }, record);
  return std::move(collector.found);
}

std::vector<Id> references(const Record& record) {
  std::vector<Id> ids;
  for (const Reference& reference : referencesWithFields(record)) ids.push_back(reference.id);
  return ids;
}

}  // namespace yw::yard
