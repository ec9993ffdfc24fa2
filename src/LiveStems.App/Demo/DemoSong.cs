using LiveStems.App.Demo.Score;

namespace LiveStems.App.Demo;

/// <summary>One song of the demo album.</summary>
/// <param name="Title">Title.</param>
/// <param name="Form">Tempo, sections and chords.</param>
/// <param name="SampleRate">Sample rate in Hz.</param>
/// <param name="Story">What the song is and what the client asks for, in plain words.</param>
/// <param name="Stems">Stems in order.</param>
/// <param name="Faults">What is wrong with them.</param>
internal sealed record DemoSong(
    string Title,
    SongForm Form,
    int SampleRate,
    string Story,
    IReadOnlyList<DemoStem> Stems,
    IReadOnlyList<DemoFault> Faults)
{
    /// <summary>Beats a minute.</summary>
    public double Tempo => Form.Tempo;

    /// <summary>Length of every stem.</summary>
    public int Frames => (int)Math.Ceiling(Form.Seconds * SampleRate);
}
