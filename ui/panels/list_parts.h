#pragma once
#include "ui/panels/rows_part.h"

namespace yw::ui {

/// Named parts of one prop: a name and the pixels, `1-24, 49-72`.
class NamedPartsPart : public RowsPart {
  Q_OBJECT
 public:
  NamedPartsPart(Document& document, std::set<base::Id> ids, QWidget* parent);

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;
  void add() override;
  void remove(int row) override;
};

/// `1-24, 49` as ranges, or why not.
base::Result<std::vector<yard::Range>> readRanges(const std::string& typed);
std::string rangesText(const std::vector<yard::Range>& ranges);

/// Ports of a controller or receiver: how many there are, and each with its run, limit, fuse and power
/// section.
class PortsPart : public RowsPart {
  Q_OBJECT
 public:
  PortsPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;

 private:
  void showUsual();
  class TypedField* count_;
  class ProtectionLine* usual_;
};

/// Power sections of a controller or receiver.
class SectionsPart : public RowsPart {
  Q_OBJECT
 public:
  SectionsPart(Document& document, std::set<base::Id> ids, QWidget* parent);

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;
  void add() override;
  void remove(int row) override;
};

/// Fuse positions of a supply: how many, and each with its fuse, holder and feed.
class FusesPart : public RowsPart {
  Q_OBJECT
 public:
  FusesPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;

 private:
  void showUsual();
  class TypedField* count_;
  class ProtectionLine* usual_;
};

/// Windows, doors, gables and eaves of a wall.
class OpeningsPart : public RowsPart {
  Q_OBJECT
 public:
  OpeningsPart(Document& document, std::set<base::Id> ids, QWidget* parent);

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;
  void add() override;
  void remove(int row) override;
};

/// Corners of a ground feature, ends of a wall, way of a cable, path of a prop: typed x and y in place of
/// dragging.
class PointsPart : public RowsPart {
  Q_OBJECT
 public:
  PointsPart(Document& document, std::set<base::Id> ids, const QString& title, QWidget* parent);

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;
  void add() override;
  void remove(int row) override;
};

}  // namespace yw::ui
