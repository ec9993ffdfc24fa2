using LiveStems.Albums.Model;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The songs of the album in order: press one to work on it.</summary>
internal sealed class SongStrip(AlbumDesk desk) : Control
{
    private const float WidestTile = 210;
    private const float NarrowestTile = 130;
    private const float NumberTile = 32;
    private const float Gap = 4;

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    // Where titles would not be read any more, the shown song alone has its words; the others keep their numbers.
    private Box Tile(int song)
    {
        int songs = desk.Album.Songs.Length;
        float even = (Bounds.Width + Gap) / Math.Max(1, songs) - Gap;
        if (even >= NarrowestTile || songs < 2)
        {
            float width = Math.Min(WidestTile, even);
            return new(Bounds.X + song * (width + Gap), Bounds.Y, width, Bounds.Height);
        }

        float shown = Math.Clamp(Bounds.Width - (songs - 1) * (NumberTile + Gap), NumberTile, WidestTile);
        float other = Math.Min(NumberTile, (Bounds.Width - shown) / (songs - 1) - Gap);
        float left = Bounds.X + song * (other + Gap) + (song > desk.SongIndex ? shown - other : 0);
        return new(left, Bounds.Y, song == desk.SongIndex ? shown : other, Bounds.Height);
    }

    public override void Draw(Painter painter)
    {
        for (int i = 0; i < desk.Album.Songs.Length; i++)
        {
            Song song = desk.Album.Songs[i];
            Box tile = Tile(i);
            bool isShown = i == desk.SongIndex;
            painter.Fill(tile, isShown ? Tone.Raised : Tone.Panel, radius: 4);
            if (isShown)
            {
                painter.Fill(new(tile.X + 4, tile.Bottom - 3, tile.Width - 8, 3), Tone.Chosen, radius: 1.5f);
            }

            painter.Text($"{i + 1}", new(tile.X + 9, tile.Y, 18, tile.Height - 2), Tone.Quiet, Lettering.Large);
            if (tile.Width <= NumberTile)
            {
                continue;
            }

            painter.Text(song.Title, new(tile.X + 30, tile.Y + 4, tile.Width - 36, 17), isShown ? Tone.Text : Tone.Quiet, isShown ? Lettering.Strong : Lettering.Plain);
            int corrections = song.Stems.Sum(stem => stem.Chain.Slots.Length + stem.Parallels.Sum(parallel => parallel.Chain.Slots.Length)) + song.Bus.Slots.Length;
            string loudness = desk.Songs.Of(i) is { } known && !desk.Songs.IsOld(i) ? FrequencyText.OfDb(known.Loudness.IntegratedLufs, "LUFS") : $"{song.Stems.Length} stems";
            Box line = new(tile.X + 30, tile.Y + 19, tile.Width - 36, 14);
            string state = $"{loudness} · {AlbumWords.State[song.State]}";
            string more = $"{state} · {corrections} corrections";
            painter.Text(painter.Fonts.Width(more, Lettering.Small) <= line.Width ? more : state, line, Tone.Quiet, Lettering.Small);
        }

        if (HasFocus)
        {
            painter.Frame(Bounds, Tone.Focus, 1.5f, 4);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        for (int i = 0; i < desk.Album.Songs.Length; i++)
        {
            if (Tile(i).Contains(pointer.X, pointer.Y))
            {
                desk.ShowSong(i);
                break;
            }
        }

        return false;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (modifiers != Modifiers.None || key is not (Key.Left or Key.Right))
        {
            return false;
        }

        desk.ShowSong(desk.SongIndex + (key == Key.Left ? -1 : 1));
        return true;
    }
}
