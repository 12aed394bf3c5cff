#pragma once
#include <QWidget>

#include "ui/document/document.h"

namespace yw::ui {

/// A piece of a record's form that its plain fields cannot show: sizes of a prop, order of a run, ports.
/// refresh() reads the document anew; it may come at any time and must not disturb what is being typed.
class FormPart : public QWidget {
  Q_OBJECT
 public:
  FormPart(Document& document, std::set<base::Id> ids, QWidget* parent = nullptr)
      : QWidget(parent), document_(document), ids_(std::move(ids)) {}
  virtual void refresh() = 0;
  /// Shown after the plain fields, not before them.
  virtual bool comesLast() const { return false; }

 Q_SIGNALS:
  /// Another record's form is wanted.
  void openAsked(yw::base::Id id);

 protected:
  Document& document() const { return document_; }
  const std::set<base::Id>& ids() const { return ids_; }
  base::Id id() const { return ids_.empty() ? base::Id{} : *ids_.begin(); }
  const yard::Yard& yard() const { return document_.shownYard(); }
  base::UnitSystem units() const { return yard::settings(yard()).units; }

 private:
  Document& document_;
  std::set<base::Id> ids_;
};

/// The parts that belong to the records of `ids`, all of `kind`, in the order they are shown.
std::vector<FormPart*> partsFor(Document& document, yard::RecordKind kind, const std::set<base::Id>& ids,
                                QWidget* parent);

}  // namespace yw::ui
