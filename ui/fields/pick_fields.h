#pragma once
#include <QComboBox>

#include "ui/fields/typed_field.h"

class QCheckBox;
class QPlainTextEdit;

namespace yw::ui {

class Document;

/// Yes or no; half-checked where several differ.
class FlagField : public ValueField {
  Q_OBJECT
 public:
  explicit FlagField(const QString& label, QWidget* parent = nullptr);
  void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) override;
  void setNames(const QString& name, const QString& label) override;
  QCheckBox* box() const { return box_; }

 private:
  QCheckBox* box_;
};

/// One of a few words.
class ChoiceField : public ValueField {
  Q_OBJECT
 public:
  ChoiceField(const QStringList& words, QWidget* parent = nullptr);
  void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) override;
  void setNames(const QString& name, const QString& label) override;
  QComboBox* combo() const { return combo_; }

 private:
  QComboBox* combo_;
};

/// One of the yard's records, none, or a new one.
class ReferenceField : public ValueField {
  Q_OBJECT
 public:
  /// `kinds`: what may be named; empty: anything.
  ReferenceField(Document& document, std::vector<yard::RecordKind> kinds, QWidget* parent = nullptr);
  void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) override;
  void setNames(const QString& name, const QString& label) override;
  QComboBox* combo() const { return combo_; }

 Q_SIGNALS:
  void newAsked(yw::yard::RecordKind kind);

 private:
  void picked(int index);
  Document& document_;
  std::vector<yard::RecordKind> kinds_;
  QComboBox* combo_;
};

/// x and y, each a length field.
class PointField : public ValueField {
  Q_OBJECT
 public:
  explicit PointField(QWidget* parent = nullptr);
  void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) override;
  void setNames(const QString& name, const QString& label) override;
  LengthField* x() const { return x_; }
  LengthField* y() const { return y_; }

 private:
  LengthField* x_;
  LengthField* y_;
};

/// Words over several lines; leaving it or Ctrl+Enter commits, Esc restores, Tab moves on.
class NotesField : public ValueField {
  Q_OBJECT
 public:
  explicit NotesField(QWidget* parent = nullptr);
  void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) override;
  void setNames(const QString& name, const QString& label) override;
  QPlainTextEdit* edit() const { return edit_; }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void commitTyped();
  QPlainTextEdit* edit_;
  QString shown_;
};

/// The records of those kinds with what people call them, in natural order (2 before 10).
std::vector<std::pair<base::Id, QString>> namedRecords(const yard::Yard& yard,
                                                       const std::vector<yard::RecordKind>& kinds);

/// The field that fits `info`; null for lists, which have their own tables.
ValueField* makeField(const yard::FieldInfo& info, Document& document, QWidget* parent);

}  // namespace yw::ui
