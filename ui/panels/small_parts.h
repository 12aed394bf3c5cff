#pragma once
#include "ui/panels/form_part.h"

class QCheckBox;
class QFormLayout;
class QLabel;
class QVBoxLayout;

namespace yw::ui {

class ReferenceField;
class TypedField;

/// Ends of a cable: the fuse position of a feed and the pixel it lands at, as fields; other ends in words.
class CableEndsPart : public FormPart {
  Q_OBJECT
 public:
  CableEndsPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 private:
  void addPieces(QFormLayout* form);
  void showUsual(const yard::Cable& cable);
  QLabel* words_;
  ReferenceField* fuse_ = nullptr;
  ReferenceField* prop_ = nullptr;
  TypedField* pixel_ = nullptr;
  TypedField* pieces_ = nullptr;  ///< of a mains cord
  class ProtectionLine* usual_;
};

/// What belongs to the record or uses it, each a button that opens it; and what can be added to it.
class LinksPart : public FormPart {
  Q_OBJECT
 public:
  LinksPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  bool comesLast() const override { return true; }
  void refresh() override;

 private:
  QVBoxLayout* column_;
  std::string shownFor_;
};

/// 'Keep as is': planners leave the port, feed, box or address of these alone.
class KeepPart : public FormPart {
  Q_OBJECT
 public:
  KeepPart(Document& document, std::set<base::Id> ids, const QString& what, const QString& words,
           QWidget* parent);
  bool comesLast() const override { return true; }
  void refresh() override;

 private:
  void keep(bool on);
  std::string what_;
  QCheckBox* box_;
};

/// Records that belong to `id` or use it, in the order a person looks for them.
std::vector<base::Id> related(const yard::Yard& yard, base::Id id);

}  // namespace yw::ui
