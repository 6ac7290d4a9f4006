//! What each piece of the file is (a heading, a cell, a figure) in the order in which it is read: the tree of tags.

use std::num::NonZeroU16;

use krilla::tagging::{Identifier, Node, TableHeaderScope, Tag, TagGroup, TagKind, TagTree};

/// A place in the tree.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct NodeId(usize);

/// What a piece is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    Document,
    /// Level from 1, and its words.
    Heading(u16, String),
    Paragraph,
    Table,
    Head,
    Body,
    Row,
    ColumnHead,
    RowHead,
    Cell,
    /// With the words for who can't see it.
    Figure(String),
    Caption,
    Group,
}

/// The tree while pages are laid.
#[derive(Debug)]
pub(super) struct Nodes {
    kinds: Vec<(Kind, Vec<NodeId>)>,
}

impl Nodes {
    pub fn new() -> Self {
        Self {
            kinds: vec![(Kind::Document, Vec::new())],
        }
    }

    pub const ROOT: NodeId = NodeId(0);

    /// Puts a piece last within another one.
    pub fn add(&mut self, within: NodeId, kind: Kind) -> NodeId {
        let id = NodeId(self.kinds.len());
        self.kinds.push((kind, Vec::new()));
        if let Some((_, children)) = self.kinds.get_mut(within.0) {
            children.push(id);
        }
        id
    }

    /// The tree of the file; `marked` has what was drawn for each piece.
    pub fn tree(&self, marked: &[(NodeId, Identifier)]) -> TagTree {
        let children = self
            .kinds
            .first()
            .map_or(&[] as &[NodeId], |(_, children)| children);
        let nodes = children.iter().filter_map(|child| self.group(*child, marked));
        TagTree::from(nodes.collect::<Vec<Node>>())
    }

    fn group(&self, id: NodeId, marked: &[(NodeId, Identifier)]) -> Option<Node> {
        let (kind, children) = self.kinds.get(id.0)?;
        let mut group = TagGroup::new(tag(kind));
        for (_, identifier) in marked.iter().filter(|(node, _)| *node == id) {
            group.push(*identifier);
        }
        for child in children.iter().filter_map(|child| self.group(*child, marked)) {
            group.push(child);
        }
        (!group.children.is_empty()).then_some(Node::Group(group))
    }
}

fn tag(kind: &Kind) -> TagKind {
    match kind {
        Kind::Document | Kind::Group => Tag::Section.into(),
        Kind::Heading(level, words) => {
            let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(words.clone())).into()
        }
        Kind::Paragraph => Tag::P.into(),
        Kind::Table => Tag::Table.into(),
        Kind::Head => Tag::THead.into(),
        Kind::Body => Tag::TBody.into(),
        Kind::Row => Tag::TR.into(),
        Kind::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
        Kind::RowHead => Tag::TH(TableHeaderScope::Row).into(),
        Kind::Cell => Tag::TD.into(),
        Kind::Figure(alt) => Tag::Figure(Some(alt.clone())).into(),
        Kind::Caption => Tag::Caption.into(),
    }
}
