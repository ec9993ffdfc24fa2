namespace LiveStems.View.Controls;

/// <summary>A value that a person sees with its unit, types, drags, turns and resets.</summary>
internal interface IValueModel
{
    string Name { get; }

    /// <summary>One sentence that says what it does.</summary>
    string Description { get; }

    /// <summary>The present value with its unit.</summary>
    string Text { get; }

    /// <summary>Position of the present value, 0 to 1.</summary>
    double Travel { get; }

    /// <summary>Position of the value of something new, 0 to 1.</summary>
    double DefaultTravel { get; }

    /// <summary>True for switches and choices: a click goes to the next.</summary>
    bool IsStepped { get; }

    /// <summary>Takes what was typed; null, or one line that says what would be right.</summary>
    string? SetText(string text);

    /// <summary>Sets it by position, as one of the steps of a drag.</summary>
    void Drag(double travel);

    /// <summary>The drag is over.</summary>
    void EndDrag();

    /// <summary>Goes up or down by so many steps.</summary>
    void Step(int steps, bool isFine);

    /// <summary>The next choice, around.</summary>
    void Next();

    /// <summary>Back to the value of something new.</summary>
    void Reset();
}
