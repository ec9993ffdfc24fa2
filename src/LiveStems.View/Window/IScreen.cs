using LiveStems.View.Controls;

namespace LiveStems.View.Window;

/// <summary>What a window shows.</summary>
internal interface IScreen : IKeyCommands
{
    /// <summary>What fills the window.</summary>
    Control Root { get; }

    /// <summary>Words on the window's frame.</summary>
    string Title { get; }

    Theme Theme { get; }

    /// <summary>Size of everything relative to what the system asks for.</summary>
    float Scale { get; }

    /// <summary>True while nothing moves, so that a few pictures a second will do.</summary>
    bool IsQuiet { get; }

    /// <summary>True when the person has asked to close.</summary>
    bool WantsToClose { get; }

    /// <summary>The controls have their window.</summary>
    void Attach(ControlHost host);

    /// <summary>Takes in what is new, before every picture.</summary>
    void Update(double seconds);
}
