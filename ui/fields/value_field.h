#pragma once
#include <QString>
#include <QWidget>
#include <functional>
#include <string>
#include <vector>

#include "core/yard/field_value.h"

class QLabel;
class QVBoxLayout;

namespace yw::ui {

/// What a field did: gives each record's new value from its old one, so that `+=2ft` over several records and
/// one half of a place are one edit.
using FieldEdit = std::function<yard::FieldValue(const yard::FieldValue& before)>;

/// Puts an edit into the yard. Gives the reason when it is refused, else nothing. Edits in a row with one
/// `mergeKey` (notches of the wheel) become one step.
using Committer = std::function<QString(const FieldEdit& edit, const std::string& mergeKey)>;

/// One value on a form: shows what its records have in common, hands edits to its committer and shows beneath
/// itself why one was refused.
class ValueField : public QWidget {
  Q_OBJECT
 public:
  explicit ValueField(QWidget* parent = nullptr);
  void setCommitter(Committer committer) { committer_ = std::move(committer); }
  /// The values of the selected records, one each: what differs reads `several`.
  virtual void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) = 0;
  /// Name for assistive tools and tests: accessible name `label`, object name `field_<name>`.
  virtual void setNames(const QString& name, const QString& label) = 0;
  /// Says under the field why it is wrong; empty: nothing is.
  virtual void setReason(const QString& reason);
  QString reason() const;

 protected:
  /// True if the yard took it.
  bool commitEdit(const FieldEdit& edit, const std::string& mergeKey = {});
  QVBoxLayout* column() const { return column_; }

 private:
  Committer committer_;
  QVBoxLayout* column_;
  QLabel* reason_;
};

/// True if all are equal (and there is one).
bool allEqual(const std::vector<yard::FieldValue>& values);

/// The wheel turns a control only after it was clicked or tabbed into; else the form scrolls.
class WheelOnlyFocused : public QObject {
 public:
  using QObject::QObject;
  static void guard(QWidget* widget);

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;
};

/// The label of a form's row, as wide as all of them and as high as its words need there.
QLabel* formLabel(const QString& words, const QString& help, ValueField& field, QWidget* parent);

}  // namespace yw::ui
